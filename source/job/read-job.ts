import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import { readRecords } from '../journal/read.ts';
import { Replay } from './replay.ts';
import { ReadOnlyJob } from './view.ts';

/**
 * A job as it stands, read without a lock.
 *
 * @param path a job folder, or a `journal.jsonl`
 * @throws JournalError `missing`, or `broken` where damage follows
 */
export function readJob(path: string): ReadOnlyJob {
  const replay = new Replay();
  for (const record of readRecords(path)) replay.take(record);
  return new ReadOnlyJob(folderOf(path), replay);
}

/** The folder of a job, by itself or by its journal. */
export function folderOf(path: string): string {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ? dirname(path) : path;
}
