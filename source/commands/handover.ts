import { resolve } from 'node:path';
import { readHandoverSource } from '../handover/read-source.ts';
import { composeHandover, writeDocuments } from '../handover/write-handover.ts';
import { JournalError } from '../journal/error.ts';
import { readSettings } from '../settings.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { jobOf } from './jobs-folder.ts';
import { journalEnding } from './journal-ending.ts';

/** The documents of a job, written into a folder. Reads the job, changes nothing of it. */
export const run: Run = (given, context) => {
  const out = given.text('out');
  if (out === undefined) throw new Ending('usage', 'No folder is given. Say where to write: --out FOLDER.');
  const source = read(given, context);
  const documents = composeHandover(source, readSettings(context.env).settings.labelSheet);
  const files = writeTo(resolve(out), documents, context);
  if (given.json) context.out(JSON.stringify({ format: 'loopward/handed-over@1', files }));
  else {
    for (const file of files) context.out(file);
    context.out(source.verdict.says);
  }
  return source.verdict.outcome === 'broken' ? EXIT.record : EXIT.done;
};

function read(given: Given, context: Context) {
  try {
    return readHandoverSource(jobOf(given, context), given.has('redact'));
  } catch (error) {
    throw journalEnding(error);
  }
}

/** Writes documents, or says in one sentence why the folder cannot take them. */
export function writeTo(folder: string, documents: ReadonlyMap<string, string>, context: Context): string[] {
  try {
    return writeDocuments(folder, documents, context.system);
  } catch (error) {
    if (!(error instanceof JournalError)) throw error;
    throw new Ending('usage', `${error.message} Or give another folder.`);
  }
}
