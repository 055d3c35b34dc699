import { basename, resolve } from 'node:path';
import { plain } from '../handover/plain.ts';
import { type HistoryEntry, type HistoryFilter, parseTime, readHistory } from '../job/history.ts';
import { jobFolders } from '../job/jobs.ts';
import { JournalError } from '../journal/error.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { jobOf, jobsFolderOf } from './jobs-folder.ts';

export const run: Run = async (given, context) => {
  if (given.has('question')) return (await import('./history-questions.ts')).run(given, context);
  if (given.has('all')) return tellAll(given, context);
  if (!given.arguments[0]) throw new Ending('usage', 'No job is given. Give its folder or its id, or --all.');
  const entries = readHistory(jobOf(given, context), filterOf(given));
  if (given.json) tellJson(entries, context);
  else for (const entry of entries) context.out(sayEntry(entry));
  return EXIT.done;
};

function filterOf(given: Given): HistoryFilter {
  const named = ['step', 'zone', 'person', 'kind', 'find'] as const;
  const words = named
    .map((name) => [name, given.text(name)] as const)
    .filter(([, value]) => value !== undefined);
  const times = (['since', 'until'] as const)
    .map((name) => [name, timeOf(given, name)] as const)
    .filter(([, value]) => value !== undefined);
  return { ...Object.fromEntries([...words, ...times]), redact: given.has('redact') };
}

function timeOf(given: Given, name: 'since' | 'until'): number | undefined {
  const typed = given.text(name);
  if (typed === undefined) return undefined;
  const time = parseTime(typed, name);
  if (time === null)
    throw new Ending('usage', `--${name} ${typed} is no time. Give 2026-05-04 or 2026-05-04T10:00.`);
  return time;
}

/** Every job of the jobs folder, one after the other, each record with the job it is of. */
function tellAll(given: Given, context: Context): ExitCode {
  const folder = resolve(given.arguments[0] || jobsFolderOf(given, context));
  const filter = filterOf(given);
  let code: ExitCode = EXIT.done;
  for (const dir of jobFolders(folder)) {
    const job = basename(dir);
    try {
      for (const entry of readHistory(dir, filter)) {
        context.out(given.json ? JSON.stringify({ job, ...entry }) : `${job}  ${sayEntry(entry)}`);
      }
    } catch (error) {
      if (!(error instanceof JournalError)) throw error;
      context.err(`${job}: ${error.message}`);
      code = EXIT.record;
    }
  }
  return code;
}

// One document, but a record a line: it is told as it is read, however long the journal is.
function tellJson(entries: Iterable<HistoryEntry>, context: Context): void {
  let line = '{"format":"loopward/history@1","records":[';
  let first = true;
  for (const entry of entries) {
    context.out(first ? line : `${line},`);
    line = JSON.stringify(entry);
    first = false;
  }
  if (!first) context.out(line);
  context.out(first ? `${line}]}` : ']}');
}

function sayEntry(entry: HistoryEntry): string {
  const who = entry.person === null ? '' : ` ${entry.person}`;
  return plain(`${String(entry.n).padStart(4)}  ${localTime(entry.at)}${who}  ${entry.says}`);
}

/** A time of the record as the clock on the wall shows it, with its offset. */
function localTime(at: string): string {
  const time = new Date(at);
  const two = (value: number): string => String(value).padStart(2, '0');
  const offset = -time.getTimezoneOffset();
  const sign = offset < 0 ? '-' : '+';
  const zone = `${sign}${two(Math.floor(Math.abs(offset) / 60))}:${two(Math.abs(offset) % 60)}`;
  const day = `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}`;
  return `${day} ${two(time.getHours())}:${two(time.getMinutes())}:${two(time.getSeconds())}${zone}`;
}
