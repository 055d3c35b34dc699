import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { readRecords } from '../journal/read.ts';

/** The job folders in a folder. */
export function jobFolders(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
    .map((entry) => join(folder, entry.name))
    .filter(holdsJob)
    .sort();
}

/**
 * The folder of a job named by its folder or its id, or null where there is none. A `journal.jsonl` stands for
 * itself.
 *
 * @param folder the jobs folder, asked for only where the name is no path
 */
export function findJob(name: string, folder: () => string): string | null {
  const at = statSync(name, { throwIfNoEntry: false });
  if (at?.isFile() || (at?.isDirectory() && holdsJob(name))) return name;
  if (!/^[\w.-]+$/.test(name)) return null;
  const shelf = folder();
  if (holdsJob(join(shelf, name))) return join(shelf, name);
  return jobFolders(shelf).find((dir) => idOf(dir) === name) ?? null;
}

/** Where the ledger of the jobs opened and sealed on this computer is kept: beside them. */
export function ledgerFolder(jobsFolder: string): string {
  return join(jobsFolder, '.ledger');
}

function holdsJob(dir: string): boolean {
  return existsSync(join(dir, 'journal.jsonl'));
}

function idOf(dir: string): unknown {
  try {
    for (const record of readRecords(dir)) return record.data.job;
  } catch {
    // A damaged job has no id to be found by; its folder still names it.
  }
  return null;
}
