import { join } from 'node:path';
import { copyFile } from '../journal/continuation.ts';
import { syncFolder } from '../journal/disk.ts';
import { codeOf, diskError } from '../journal/error.ts';
import type { JournalFiles } from '../journal/system.ts';

/** What belongs to a job and is no part of its journal. */
const BESIDE = ['private.json', 'draft.json', 'live.json'];
const FOLDER = 'attachments';

/** Codes of a file that its disk gives up no more: the work goes on without it, and it is said. */
const LOST = new Set(['EIO', 'EACCES', 'EPERM', 'ELOOP']);

/**
 * Copies names, draft, how the board is heard and attachments of a job to where its journal goes on.
 *
 * @returns what could not be read, in sentences: a failing disk must not keep the rest from being saved
 * @throws JournalError `disk-full`, `io` of the folder that it goes to
 */
export function copyBeside(from: string, to: string, files: JournalFiles): string[] {
  const attached = namesIn(files, join(from, FOLDER)).map((name) => join(FOLDER, name));
  if (attached.length > 0) files.mkdir(join(to, FOLDER));
  const lost = [...BESIDE, ...attached].flatMap((name) => {
    try {
      if (!files.isFolder(join(from, name))) copyFile(files, join(from, name), join(to, name));
      return [];
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return [];
      if (!LOST.has(codeOf(error))) throw diskError(`${name} cannot be copied to ${to}`, error);
      return [`${join(from, name)} cannot be read (${codeOf(error)}) and is not in the new folder.`];
    }
  });
  if (attached.length > 0) syncFolder(files, join(to, FOLDER));
  return lost;
}

function namesIn(files: JournalFiles, folder: string): string[] {
  try {
    return files.isFolder(folder) ? files.list(folder) : [];
  } catch {
    return [];
  }
}
