import { JournalError } from '../journal/error.ts';
import { Journal } from '../journal/journal.ts';
import type { System } from '../journal/system.ts';
import { copyBeside } from './copy-beside.ts';
import { Job } from './job.ts';

/**
 * Goes on with a job in another folder: after NOT SAVED, on a disk that fails, or after the last good record of a
 * journal that is damaged. The old folder stays as it is and takes no more records.
 *
 * @throws JournalError `exists` where the folder holds a journal, `missing`, `locked`, `disk-full`, `io`
 */
export function continueJob(dir: string, into: string, system: System): void {
  try {
    const job = Job.open(dir, system, 'act');
    try {
      job.continueIn(into).close();
    } finally {
      job.close();
    }
  } catch (error) {
    if (!(error instanceof JournalError) || error.kind !== 'broken') throw error;
    Journal.continueBroken(dir, into, system).close();
    copyBeside(dir, into);
  }
}
