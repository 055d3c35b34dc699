import { basename, dirname } from 'node:path';
import { ChainCursor, firstRecordOf, START } from './chain.ts';
import { codeOf, JournalError } from './error.ts';
import { type Part, partsIn } from './parts.ts';
import type { JournalRecord } from './record.ts';
import type { Head } from './scan.ts';
import { type JournalFiles, realFiles } from './system.ts';

/** The parts that a path means, a folder or one file, and the head they go on from. */
export function partsAt(files: JournalFiles, path: string): { dir: string; parts: Part[]; from: Head } {
  if (!isFile(files, path)) {
    const parts = partsIn(files, path);
    if (parts.length === 0)
      throw new JournalError('missing', `${path} holds no journal. Give the folder of a job.`);
    return { dir: path, parts, from: START };
  }
  const part = { number: 1, name: basename(path), path };
  const first = firstRecordOf(files, part);
  const isContinuation = first !== null && first.n > 0 && typeof first.data.continues === 'object';
  const from = isContinuation ? { count: first.n, digest: first.prev } : START;
  return { dir: dirname(path), parts: [part], from };
}

function isFile(files: JournalFiles, path: string): boolean {
  try {
    files.list(path);
    return false;
  } catch (error) {
    return codeOf(error) === 'ENOTDIR';
  }
}

/**
 * The good records of a journal (a folder, or one of its files), streamed without a lock and in flat memory.
 *
 * @throws JournalError `missing`, or `broken` after the last good record where damage follows
 */
export function* readRecords(path: string, files: JournalFiles = realFiles): Generator<JournalRecord> {
  const { parts, from } = partsAt(files, path);
  const cursor = new ChainCursor(files, parts, { full: true }, from);
  try {
    while (cursor.next()) if (cursor.record !== null) yield cursor.record;
    const { fault, parts: scans } = cursor.finish();
    if (fault !== null && scans.at(-1)?.scan.rest === 'broken')
      throw new JournalError(
        'broken',
        `Record ${fault.n} of ${fault.file} is damaged: ${fault.says}. Verify the job.`,
      );
  } finally {
    cursor.close();
  }
}
