import { basename, resolve } from 'node:path';
import { plain } from '../handover/plain.ts';
import { type HistoryEntry, type HistoryFilter, parseTime, readHistory } from '../job/history.ts';
import { jobsIn } from '../job/jobs.ts';
import { sayTrouble } from '../job/way-on.ts';
import { JournalError } from '../journal/error.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { verifyNames } from './history-names.ts';
import { jobOf, jobsFolderOf } from './jobs-folder.ts';

export const run: Run = async (given, context) => {
  if (given.has('question')) return (await import('./history-questions.ts')).run(given, context);
  if (given.has('all')) return tellAll(given, context);
  if (!given.arguments[0]) throw new Ending('usage', 'No job is given. Give its folder or its id, or --all.');
  const dir = jobOf(given, context);
  const filter = filterOf(given);
  let code: ExitCode = EXIT.done;
  const onDamage = (error: JournalError) => {
    context.err(sayTrouble(error));
    code = EXIT.record;
  };
  const entries = readHistory(dir, filter, onDamage);
  const first = entries.next();
  if (first.done) sayNone(dir, filter, context);
  const all = begunWith(first, entries);
  if (given.json) tellJson(all, context);
  else for (const entry of all) context.out(sayEntry(entry));
  return code;
};

function* begunWith(
  first: IteratorResult<HistoryEntry>,
  rest: Iterable<HistoryEntry>,
): Iterable<HistoryEntry> {
  if (first.done) return;
  yield first.value;
  yield* rest;
}

function sayNone(dir: string, filter: HistoryFilter, context: Context): void {
  if (isEmpty(dir)) throw new Ending('usage', holdsNone(dir));
  verifyNames(filter, [dir]);
  context.err(NONE_FITS);
}

const NONE_FITS = 'No record fits what was asked.';

function isEmpty(dir: string): boolean {
  return readHistory(dir, {})[Symbol.iterator]().next().done === true;
}

function holdsNone(dir: string): string {
  return `${dir} holds no record. Take the job from a backup, or from where it came from.`;
}

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
  let told = 0;
  const jobs = jobsIn(folder);
  for (const { dir, trouble } of jobs) {
    const job = basename(dir);
    try {
      if (trouble !== null || isEmpty(dir)) throw new JournalError('missing', trouble ?? holdsNone(dir));
      const onDamage = (error: JournalError) => {
        context.err(`${job}: ${error.message}`);
        code = EXIT.record;
      };
      for (const entry of readHistory(dir, filter, onDamage)) {
        told += 1;
        context.out(given.json ? JSON.stringify({ job, ...entry }) : `${job}  ${sayEntry(entry)}`);
      }
    } catch (error) {
      if (!(error instanceof JournalError)) throw error;
      context.err(`${job}: ${error.message}`);
      code = EXIT.record;
    }
  }
  if (told > 0 || code !== EXIT.done) return code;
  if (jobs.length > 0)
    verifyNames(
      filter,
      jobs.map(({ dir }) => dir),
    );
  context.err(jobs.length === 0 ? `There is no job in ${folder}.` : NONE_FITS);
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
