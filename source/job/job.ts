import type { System } from '../journal/system.ts';
import { ActingJob, enterJob } from './acting-job.ts';
import { carryOnIn } from './carry-on.ts';
import type { Ledger } from './held-job.ts';
import { PLANNING } from './planning.ts';

/** A job that is worked on, with all that plans in it. */
export class Job extends ActingJob {
  /**
   * Opens a job, replaying its journal. Screens begin a sitting by opening, and that is recorded.
   *
   * @param ledger the folder of the ledger of jobs, asked for when the job is sealed
   * @throws JournalError `missing`, `locked`, `broken`, `io`
   */
  static open(dir: string, system: System, sitting: 'screens' | 'act', ledger?: Ledger): Job {
    const make = (journal: Job['journal'], replay: Job['replay']) =>
      new Job(journal, replay, system, sitting, ledger, PLANNING);
    return enterJob(dir, system, make);
  }

  /**
   * Goes on in another folder after NOT SAVED: everything that was saved is copied there and linked to. What was
   * not saved is to be done again there.
   *
   * @throws JournalError `exists`, `disk-full`, `io`; then this job stays as it is
   */
  continueIn(dir: string): Job {
    carryOnIn(this.dir, dir, this.system, this.journal);
    this.journal.close();
    return Job.open(dir, this.system, this.sitting, this.ledger);
  }
}
