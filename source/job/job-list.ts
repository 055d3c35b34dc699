import { statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type JobFolder, jobsIn } from './jobs.ts';
import { readPrivate } from './private.ts';

/** One page of the jobs of a folder. */
export type JobPage = {
  readonly folders: readonly JobFolder[];
  /** From 0. */
  readonly page: number;
  readonly pages: number;
  /** Jobs that were looked for and found, and all there are. */
  readonly found: number;
  readonly total: number;
};

/**
 * A page of the jobs of a folder: open ones first, then those worked on last. No record is read for the order: what is open
 * tells its seal, when it was worked on its file. So the first of thousands comes as soon as the first of fifty.
 *
 * @param find words that must all stand in its folder's name, place, address or reference; empty for all
 * @param size jobs on a page. The last one is filled up with jobs of the page before, so that every page has as many rows
 */
export function pageOfJobs(folder: string, find: string, page: number, size: number): JobPage {
  const all = jobsIn(folder);
  const words = find.toLowerCase().split(/\s+/).filter(Boolean);
  const found = all.filter((job) => words.length === 0 || holds(job, words));
  const ordered = found
    .map((job) => ({ job, worked: workedAt(job) }))
    .sort((a, b) => rankOf(a.job) - rankOf(b.job) || b.worked - a.worked)
    .map(({ job }) => job);
  const pages = Math.max(1, Math.ceil(ordered.length / size));
  const at = Math.min(Math.max(0, page), pages - 1);
  const from = Math.max(0, Math.min(at * size, ordered.length - size));
  const folders = ordered.slice(from, from + size);
  return { folders, page: at, pages, found: found.length, total: all.length };
}

// What nobody can work on stands behind what somebody can, and before what is done.
function rankOf({ trouble, sealed }: JobFolder): number {
  if (trouble !== null) return 1;
  return sealed ? 2 : 0;
}

function holds({ dir, trouble }: JobFolder, words: readonly string[]): boolean {
  const site = trouble === null ? readPrivate(dir).site : null;
  const text = [basename(dir), site?.name, site?.address, site?.reference].join('\n').toLowerCase();
  return words.every((word) => text.includes(word));
}

function workedAt({ dir, record }: JobFolder): number {
  if (record === null) return 0;
  return statSync(join(dir, record), { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
