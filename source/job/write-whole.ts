import { dirname } from 'node:path';
import { createFile, deleteFile, readText, syncFolder } from '../journal/disk.ts';
import { diskError } from '../journal/error.ts';
import { type JournalFiles, realFiles } from '../journal/system.ts';

/**
 * Replaces a small file as a whole, so that a kill leaves the old or the new one: written beside, synced, renamed.
 * Mode 0600 under any umask; a link in its place is replaced, not followed.
 *
 * @throws JournalError `disk-full`, `io`; then the old one stands as it was, with nothing beside it
 */
export function writeWhole(path: string, text: string, files: JournalFiles = realFiles): void {
  const beside = besideOf(path);
  try {
    deleteFile(files, beside);
    try {
      createFile(files, beside, Buffer.from(text));
      files.rename(beside, path);
    } catch (error) {
      deleteFile(files, beside);
      throw error;
    }
    syncFolder(files, dirname(path));
  } catch (error) {
    throw diskError(`${path} cannot be written`, error);
  }
}

/** Removes what a program that was killed while it wrote may have left: it must not outlive what it was to become. */
export function clearBeside(path: string, files: JournalFiles = realFiles): void {
  deleteFile(files, besideOf(path));
}

/** Where a file is written before it takes its name. */
function besideOf(path: string): string {
  return `${path}.new`;
}

/** A small JSON file, or null where there is none, it is a link, or it cannot be understood. */
export function readWhole(path: string, files: JournalFiles = realFiles): unknown {
  try {
    return JSON.parse(readText(files, path));
  } catch {
    return null;
  }
}
