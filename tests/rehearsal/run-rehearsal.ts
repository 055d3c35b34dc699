import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { enterJob } from '../../source/job/acting-job.ts';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { PLANNING } from '../../source/job/planning.ts';
import { realFiles, realSystem, type System } from '../../source/journal/system.ts';
import type { Scene } from '../../source/rehearsal/building/faults/fault.ts';
import { type RandomSurveyOptions, randomSurvey } from '../random-survey.ts';
import { boardText, demoText, sceneOf } from './demo-scene.ts';

/** The disk without waiting for it: what is measured here is the work, not the writing. */
const hasty: System = { ...realSystem(), files: { ...realFiles, fsync: () => {} } };

export type Site = { readonly text: string; readonly boards: readonly string[] };

export const DEMO: Site = { text: demoText, boards: ['eight-paired'] };

/** An invented site with the boards it gets; everything about it is known unless it is asked for otherwise. */
export function randomSite(seed: number, options: RandomSurveyOptions = { unknowns: false }): Site {
  const { text, survey } = randomSurvey(seed, options);
  return { text, boards: survey.boards.map(({ file }) => file) };
}

/** Opens a job on a site, hands it to `work` and throws it away. Null where the plan is blocked. */
export function withJob<T>(site: Site, work: (job: Job, scene: Scene, dir: string) => T): T | null {
  const { files, scene } = openedOnce(site);
  if (files === null) return null;
  return inFolder((dir) => {
    for (const [name, content] of files) {
      mkdirSync(dirname(join(dir, 'job', name)), { recursive: true, mode: 0o700 });
      writeFileSync(join(dir, 'job', name), content, { mode: 0o600 });
    }
    const job = enterJob(
      join(dir, 'job'),
      hasty,
      (journal, replay) => new Job(journal, replay, hasty, 'act', undefined, PLANNING),
    );
    const done = work(job, scene, join(dir, 'job'));
    job.close();
    return done;
  });
}

/** What the rehearsals of one site have in common: a job just opened, file by file, and what it was drawn from. */
type Opened = {
  readonly files: ReadonlyMap<string, Buffer> | null;
  readonly scene: Scene;
};

let latest: { readonly site: string; readonly opened: Opened } | null = null;

/** A site is planned once for all the rehearsals on it. */
function openedOnce(site: Site): Opened {
  if (latest?.site !== site.text) latest = { site: site.text, opened: open(site) };
  return latest.opened;
}

function open({ text, boards: names }: Site): Opened {
  const files = inFolder((dir) => {
    const boards = names.map((name, index) => ({
      id: `b${index + 1}`,
      file: `${name}.yaml`,
      text: boardText(name),
    }));
    const folder = join(dir, 'job');
    const job = createJob({
      surveyText: text,
      surveyFile: 'survey.yaml',
      boards,
      dir: folder,
      system: hasty,
      rehearsal: { seed: 0, faults: [] },
    });
    if ('problems' in job) throw new Error(JSON.stringify(job.problems));
    if ('blocked' in job) return null;
    job.close();
    const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
    const paths = entries.flatMap((entry) => (entry.isFile() ? [join(entry.parentPath, entry.name)] : []));
    return new Map(paths.map((path) => [relative(folder, path), readFileSync(path)]));
  });
  return { files, scene: sceneOf(text, names) };
}

function inFolder<T>(work: (dir: string) => T): T {
  const dir = mkdtempSync(join(tmpdir(), 'rehearsal-'));
  try {
    return work(dir);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}
