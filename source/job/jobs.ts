import { type Dirent, existsSync, readdirSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { isBeingMade } from '../journal/aside.ts';
import { codeOf, diskError } from '../journal/error.ts';
import { readRecords } from '../journal/read.ts';

/** Files of a job that are read as they stand: each must be a file of its own. */
const READ = /^(journal(\.\d+)?\.jsonl|private\.json|draft\.json|seal\.txt)$/;
const RECORD = /^journal(\.\d+)?\.jsonl$/;

/** What a folder of a job tells without its record being read. */
export type JobFolder = {
  readonly dir: string;
  /** The last part of its record, by name; null where it cannot even be listed. */
  readonly record: string | null;
  readonly sealed: boolean;
  /** What stands in the way of reading it, and what to do; null where nothing does. */
  readonly trouble: string | null;
};

/** The job folders in a folder, in the order of their names. */
export function jobFolders(folder: string): string[] {
  return jobsIn(folder).map(({ dir }) => dir);
}

/** The same, with what each tells by its files alone. A folder that is being made, or was by a program that was killed, is none yet. */
export function jobsIn(folder: string): JobFolder[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter(({ name }) => !name.startsWith('.') && !isBeingMade(name))
    .filter((entry) => entry.isDirectory() || (entry.isSymbolicLink() && isFolder(join(folder, entry.name))))
    .flatMap(({ name }) => lookInto(join(folder, name)) ?? [])
    .sort((a, b) => (a.dir < b.dir ? -1 : 1));
}

/**
 * What stands in the way of reading a job, told without opening anything that might never answer; null where nothing does.
 *
 * @param path the folder of a job, or a `journal.jsonl`
 */
export function jobTrouble(path: string): string | null {
  const isFile = statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
  return lookInto(isFile ? dirname(path) : path, isFile ? basename(path) : null)?.trouble ?? null;
}

/**
 * The folder of a job named by its folder or its id, or null where there is none. A `journal.jsonl` stands for
 * itself.
 *
 * @param folder the jobs folder, asked for only where the name is no path
 */
export function findJob(name: string, folder: () => string): string | null {
  const at = statSync(name, { throwIfNoEntry: false });
  if (at?.isFile() || (at?.isDirectory() && lookInto(name) !== null)) return name;
  if (!/^[\w.-]+$/.test(name)) return null;
  const shelf = folder();
  if (lookInto(join(shelf, name)) !== null) return join(shelf, name);
  // A job that went on elsewhere stands here twice under its id: the one that takes records is meant.
  let moved: string | null = null;
  for (const { dir, trouble } of jobsIn(shelf)) {
    if (trouble !== null || idOf(dir) !== name) continue;
    if (!existsSync(join(dir, 'continued.json'))) return dir;
    moved ??= dir;
  }
  return moved;
}

/** Where the ledger of the jobs opened and sealed on this computer is kept: beside them. */
export function ledgerFolder(jobsFolder: string): string {
  return join(jobsFolder, '.ledger');
}

/** @param only one file of a record that is read by itself */
function lookInto(dir: string, only: string | null = null): JobFolder | null {
  let entries: Dirent[];
  try {
    entries = readdirSync(dir, { withFileTypes: true });
  } catch (error) {
    if (['ENOENT', 'ENOTDIR'].includes(codeOf(error))) return null;
    return { dir, record: null, sealed: false, trouble: diskError(`${dir} cannot be listed`, error).message };
  }
  let record: string | null = null;
  let sealed = false;
  let trouble: string | null = null;
  for (const entry of entries) {
    const { name } = entry;
    if (!READ.test(name) || (only !== null && name !== only)) continue;
    if (RECORD.test(name) && partNumber(name) >= (record === null ? 0 : partNumber(record))) record = name;
    if (name === 'seal.txt') sealed = true;
    trouble ??= entry.isFile() ? null : noFile(join(dir, name), entry);
  }
  return record === null ? null : { dir, record, sealed, trouble };
}

function noFile(path: string, entry: Dirent): string {
  const what = entry.isSymbolicLink()
    ? 'a link'
    : entry.isDirectory()
      ? 'a folder'
      : entry.isFIFO()
        ? 'a pipe'
        : 'a device';
  return `${path} is ${what}, not a file of its own. Put the file itself in its place.`;
}

function partNumber(name: string): number {
  return Number(/\d+/.exec(name)?.[0] ?? 1);
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}

function idOf(dir: string): unknown {
  try {
    for (const record of readRecords(dir)) return record.data.job;
  } catch {
    // A damaged job has no id to be found by; its folder still names it.
  }
  return null;
}
