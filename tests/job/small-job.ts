import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { basisRecords } from '../../source/job/basis.ts';
import { Job } from '../../source/job/job.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realFiles, type System } from '../../source/journal/system.ts';
import type { Procedure } from '../../source/procedure/step.ts';
import { Clocks, fakeSystem } from '../journal/world.ts';
import { SMALL } from '../procedure/small-procedure.ts';

export type SmallJob = { readonly dir: string; readonly clocks: Clocks; readonly system: System; job: Job };

/** A folder of its own for a test. */
export function folder(): string {
  return mkdtempSync(join(tmpdir(), 'loopward-job-'));
}

/** A job of a few steps on the real disk, with clocks that the test sets. */
export function smallJob(procedure: Procedure = SMALL, sitting: 'screens' | 'act' = 'act'): SmallJob {
  const clocks = new Clocks();
  const system = fakeSystem(realFiles, clocks);
  const dir = join(folder(), 'job');
  const journal = Journal.create(dir, { job: 'small', rehearsal: null }, system);
  const basis = {
    survey: 'format: loopward/survey@1\noutside: {feed: dc-adapter}\n',
    boards: [],
    planDigest: '',
    plan: null,
    procedure,
  };
  for (const data of basisRecords(basis, 0, null)) journal.append('basis', data);
  journal.close();
  return { dir, clocks, system, job: Job.open(dir, system, sitting) };
}

/** Opens the job of a folder again, as a program that starts anew does. */
export function again(small: SmallJob, sitting: 'screens' | 'act' = 'act'): Job {
  small.job.close();
  small.job = Job.open(small.dir, small.system, sitting);
  return small.job;
}
