import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createJob } from '../../source/job/create.ts';
import { readSiteFiles } from '../../source/job/site-files.ts';
import { realSystem } from '../../source/journal/system.ts';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { makeJobs } from '../screens/many-jobs.ts';
import type { Bench, Side } from './bench.ts';

const scratch = mkdtempSync(join(tmpdir(), 'loopward-bench-jobs-'));
process.once('exit', () => rmSync(scratch, { recursive: true, force: true }));
const system = realSystem();
const like = demo();

/** The demo, opened: a job as large as they begin. */
function demo(): string {
  const read = readSiteFiles('fixtures/sailing-club/survey.yaml', ['fixtures/boards/six-paired.yaml']);
  if (!read.ok) throw new Error('The demo cannot be read.');
  const { surveyText, surveyFile, boardFiles: boards } = read.site;
  const made = createJob({ surveyText, surveyFile, boards, dir: join(scratch, 'like'), system });
  if (!('close' in made)) throw new Error('The demo cannot be opened.');
  made.close();
  return made.dir;
}

function listOf(count: number, spoiled: number): Side {
  const folder = join(scratch, `${count}`);
  makeJobs(folder, like, count, spoiled);
  const shelf = shelfOf(folder, system);
  return {
    name: `first page of ${count}, ${spoiled} spoiled`,
    run: () => {
      const { rows, total } = shelf.list(ALL_JOBS);
      if (total !== count || rows.some(({ state }) => state !== 'open'))
        throw new Error('Not the first page.');
      return rows;
    },
  };
}

export const benches: readonly Bench[] = [
  {
    name: 'list of jobs',
    target: { ratio: 3 },
    baseline: listOf(50, 0),
    subject: listOf(5000, 50),
  },
];
