import { join } from 'node:path';
import { deleteFile, readText, withFile, writeFully } from './disk.ts';
import { codeOf } from './error.ts';
import type { Head } from './scan.ts';
import type { JournalFiles } from './system.ts';

const FILE = '.saved';
const FORM = /^ *(\d+):([0-9a-f]{64})\n$/;
const COUNT_DIGITS = 12;

/**
 * Notes down how far the record was saved, after it was and before anybody is told. Nothing waits for it to reach the
 * disk, so after a power cut it may lag behind; ahead it never is. By it an end that was saved and is damaged or gone is
 * told from one that was never finished.
 */
export function noteSaved(files: JournalFiles, dir: string, { count, digest }: Head): void {
  const path = join(dir, FILE);
  const bytes = Buffer.from(`${String(count).padStart(COUNT_DIGITS)}:${digest}\n`);
  try {
    withFile(files, path, 'rewrite', (fd) => {
      for (let done = 0; done < bytes.length; ) done += files.overwrite(fd, bytes, done, done);
    });
  } catch (error) {
    if (codeOf(error) === 'ENOENT') begin(files, path, bytes);
  }
}

function begin(files: JournalFiles, path: string, bytes: Buffer): void {
  try {
    withFile(files, path, 'create', (fd) => writeFully(files, fd, bytes));
  } catch {
    // Without it the record is as safe; only less can be told of its end.
  }
}

/** How far the record was saved at least; null where nothing tells. */
export function readSaved(files: JournalFiles, dir: string): Head | null {
  try {
    const [, count, digest] = FORM.exec(readText(files, join(dir, FILE))) ?? [];
    return count === undefined || digest === undefined ? null : { count: Number(count), digest };
  } catch {
    return null;
  }
}

/** Once a seal tells it better. */
export function forgetSaved(files: JournalFiles, dir: string): void {
  deleteFile(files, join(dir, FILE));
}
