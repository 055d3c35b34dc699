import { resolve } from 'node:path';
import { findJob, jobTrouble, ledgerFolder } from '../job/jobs.ts';
import { readSettings } from '../settings.ts';
import type { Context, Given } from './command.ts';
import { Ending } from './exit.ts';

/** The jobs folder: `--jobs`, else `LOOPWARD_HOME`, else the settings. */
export function jobsFolderOf(given: Given, context: Context): string {
  const named = given.text('jobs') ?? context.env.LOOPWARD_HOME;
  return named ? resolve(named) : readSettings(context.env).settings.jobsFolder;
}

/** The folder (or `journal.jsonl`) of the job that the first argument names. */
export function jobOf(given: Given, context: Context): string {
  const [name = ''] = given.arguments;
  const found = findJob(name, () => jobsFolderOf(given, context));
  if (found === null) {
    throw new Ending(
      'usage',
      `There is no job ${name}. Give its folder, or an id from ${jobsFolderOf(given, context)}.`,
    );
  }
  const trouble = jobTrouble(found);
  if (trouble !== null) throw new Ending('usage', trouble);
  return found;
}

/** As {@link jobOf}, for a command that needs more than the journal by itself. */
export function jobFolderOf(given: Given, context: Context): string {
  const found = jobOf(given, context);
  if (!found.endsWith('.jsonl')) return found;
  throw new Ending('usage', `${found} is a journal by itself. Give the folder of the job.`);
}

/** Where the ledger of jobs opened and sealed on this computer is kept. */
export function ledgerOf(given: Given, context: Context): string {
  return ledgerFolder(jobsFolderOf(given, context));
}
