import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createJob } from '../../source/job/create.ts';
import type { Job } from '../../source/job/job.ts';
import { realFiles, realSystem, type System } from '../../source/journal/system.ts';
import type { Scene } from '../../source/rehearsal/building/faults/fault.ts';
import { boardText, sceneOf } from './demo-scene.ts';
import { randomSurvey } from './random-site.ts';

/** The disk without waiting for it: what is measured here is the work, not the writing. */
const hasty: System = { ...realSystem(), files: { ...realFiles, fsync: () => {} } };

export type Site = { readonly text: string; readonly boards: readonly string[] };

const BOARDS = ['eight-paired', 'six-paired', 'twelve-supervised'] as const;

/** An invented site with one of the generic boards. */
export function randomSite(seed: number): Site {
  return { text: randomSurvey(seed), boards: [BOARDS[seed % BOARDS.length]!] };
}

/** Opens a job on a site, hands it to `work` and throws it away. Null where the plan is blocked. */
export function withJob<T>(site: Site, work: (job: Job, scene: Scene) => T): T | null {
  const dir = mkdtempSync(join(tmpdir(), 'rehearsal-'));
  try {
    const boards = site.boards.map((name, index) => ({
      id: `b${index + 1}`,
      file: `${name}.yaml`,
      text: boardText(name),
    }));
    const job = createJob({
      surveyText: site.text,
      surveyFile: 'survey.yaml',
      boards,
      dir: join(dir, 'job'),
      system: hasty,
      rehearsal: { seed: 0, faults: [] },
    });
    if ('problems' in job) throw new Error(JSON.stringify(job.problems));
    if ('blocked' in job) return null;
    const done = work(job, sceneOf(site.text, site.boards));
    job.close();
    return done;
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}
