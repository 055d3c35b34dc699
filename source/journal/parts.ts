import { join } from 'node:path';
import { codeOf, diskError, JournalError } from './error.ts';
import type { JournalFiles } from './system.ts';

const PART = /^journal(?:\.([2-9]|[1-9]\d+))?\.jsonl$/;
const TORN = /^journal(?:\.\d+)?\.jsonl\.torn-(\d+)$/;

/** A file of a journal: the first is `journal.jsonl`, a continuation `journal.2.jsonl`, `journal.3.jsonl` ... */
export type Part = { readonly number: number; readonly name: string; readonly path: string };

/** The part of a journal by its number, from 1. */
export function partOf(dir: string, number: number): Part {
  const name = number === 1 ? 'journal.jsonl' : `journal.${number}.jsonl`;
  return { number, name, path: join(dir, name) };
}

/** The parts that a folder holds, the first first. */
export function partsIn(files: JournalFiles, dir: string): Part[] {
  return namesIn(files, dir)
    .flatMap((name) => {
      const match = PART.exec(name);
      return match ? [partOf(dir, Number(match[1] ?? 1))] : [];
    })
    .sort((a, b) => a.number - b.number);
}

/** The ends that were cut off and kept, oldest first. */
export function tornIn(files: JournalFiles, dir: string): string[] {
  return namesIn(files, dir)
    .filter((name) => TORN.test(name))
    .sort((a, b) => tornNumber(a) - tornNumber(b));
}

/** A name for the end of a part that is to be kept; never one that is taken. */
export function nextTorn(files: JournalFiles, dir: string, part: Part): string {
  const highest = tornIn(files, dir).reduce((most, name) => Math.max(most, tornNumber(name)), 0);
  return `${part.name}.torn-${highest + 1}`;
}

function tornNumber(name: string): number {
  return Number(TORN.exec(name)?.[1]);
}

function namesIn(files: JournalFiles, dir: string): string[] {
  try {
    return files.list(dir);
  } catch (error) {
    if (!['ENOENT', 'ENOTDIR'].includes(codeOf(error))) throw diskError(`${dir} cannot be listed`, error);
    throw new JournalError('missing', `${dir} cannot be read as a folder. Give the folder of a job.`, error);
  }
}
