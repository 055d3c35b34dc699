import {
  closeSync,
  constants,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  unlinkSync,
  writeSync,
} from 'node:fs';

/**
 * Replaces a small file as a whole, so that a kill leaves the old or the new one: written beside, synced, renamed.
 * Mode 0600 under any umask; a link in its place is replaced, not followed.
 *
 * @throws what the file system says: no space, no permission
 */
export function writeWhole(path: string, text: string): void {
  const beside = besideOf(path);
  clearBeside(path);
  const file = openSync(beside, 'wx', 0o600);
  try {
    let rest = Buffer.from(text);
    while (rest.length > 0) rest = rest.subarray(writeSync(file, rest));
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  renameSync(beside, path);
}

/** Removes what a program that was killed while it wrote may have left: it must not outlive what it was to become. */
export function clearBeside(path: string): void {
  try {
    // Not `rmSync`: it brings what removes whole folders.
    unlinkSync(besideOf(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
}

/** Where a file is written before it takes its name. */
function besideOf(path: string): string {
  return `${path}.new`;
}

/** A small JSON file, or null where there is none, it is a link, or it cannot be understood. */
export function readWhole(path: string): unknown {
  try {
    const file = openSync(path, constants.O_RDONLY | constants.O_NOFOLLOW);
    try {
      return JSON.parse(readFileSync(file, 'utf8'));
    } finally {
      closeSync(file);
    }
  } catch {
    return null;
  }
}
