import { codeOf, JournalError } from '../journal/error.ts';
import type { JournalFiles } from '../journal/system.ts';

/** @throws JournalError `exists` unless there is nothing, or an empty folder */
export function verifyFree(dir: string, files: JournalFiles): void {
  let held: string[];
  try {
    held = files.list(dir);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return;
    if (codeOf(error) !== 'ENOTDIR') throw error;
    throw new JournalError('exists', `${dir} is no folder that could hold a job. Give another one.`);
  }
  if (held.length > 0)
    throw new JournalError('exists', `${dir} holds something already. Give another folder.`);
}

/** An empty folder is given up for the one that takes its name. */
export function freeName(dir: string, files: JournalFiles): void {
  verifyFree(dir, files);
  try {
    files.rmdir(dir);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}
