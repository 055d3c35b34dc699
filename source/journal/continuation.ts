import { join } from 'node:path';
import { scanChain } from './chain.ts';
import { readFully, syncFolder, withFile, writeFully } from './disk.ts';
import { JournalError } from './error.ts';
import { readJobKey, writeJobKey } from './job-key.ts';
import { type Part, partOf, partsIn, tornIn } from './parts.ts';
import type { Head } from './scan.ts';
import { hasSeal } from './seal-note.ts';
import type { JournalFiles } from './system.ts';

const COPY_BYTES = 256 * 1024;

/**
 * Copies a journal up to its last part into another folder and walks the copy, because a disk that failed once
 * may read back other bytes than were written.
 */
export function copyJournal(files: JournalFiles, from: string, to: string, last: Part, head: Head): void {
  const parts = partsIn(files, from).filter((part) => part.number <= last.number);
  for (const { name } of parts) copyFile(files, join(from, name), join(to, name));
  for (const name of tornIn(files, from)) copyFile(files, join(from, name), join(to, name));
  if (hasSeal(files, from)) copyFile(files, join(from, 'seal.txt'), join(to, 'seal.txt'));
  const key = readJobKey(files, from);
  if (key !== null) writeJobKey(files, to, key);
  syncFolder(files, to);
  let isSame = false;
  scanChain(
    files,
    parts.map((part) => partOf(to, part.number)),
    {},
    (cursor) => {
      isSame ||= cursor.head.count === head.count && cursor.head.digest === head.digest;
    },
  );
  if (!isSame)
    throw new JournalError(
      'io',
      `${from} does not read back as it was written. Copy the folder by hand before going on.`,
    );
}

/** Copies one file, durable with `syncFolder` after it. Links are not followed. */
export function copyFile(files: JournalFiles, from: string, to: string): void {
  withFile(files, from, 'read', (source) =>
    withFile(files, to, 'create', (target) => {
      for (let position = 0; ; ) {
        const bytes = readFully(files, source, position, COPY_BYTES);
        if (bytes.length === 0) break;
        writeFully(files, target, bytes);
        position += bytes.length;
      }
      files.fsync(target);
    }),
  );
}

/** Marks a part whose journal goes on elsewhere, so that nobody forks it; not possible on every failing disk. */
export function closeForWriting(files: JournalFiles, part: Part): void {
  try {
    withFile(files, part.path, 'read', (fd) => files.chmod(fd, 0o400));
  } catch {
    // The link in the continuation holds without it.
  }
}
