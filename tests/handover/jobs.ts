import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover, writeDocuments } from '../../source/handover/write-handover.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { realFiles, realSystem, type System } from '../../source/journal/system.ts';
import { run } from '../commands/run.ts';
import { randomSurvey } from '../random-survey.ts';

/** Sixty detectors in twenty zones on five boards, every style of loop; its technician deviates and fails now and then. */
const SIXTY = 3;

/** The disk without waiting for it: the documents are looked at here, not the writing. */
const hasty: System = { ...realSystem(), files: { ...realFiles, fsync: () => {} } };

export const JOBS = ['demo', 'sixty'] as const;
export type JobName = (typeof JOBS)[number];

/** A job carried out by the rehearsed technician, in `folder`. */
export async function carryOutJob(name: JobName, folder: string): Promise<string> {
  let survey = bundledFile(DEMO_SURVEY);
  if (name === 'sixty') {
    const { text, survey: read } = randomSurvey(SIXTY, { zones: 20, detectors: 60, unknowns: false });
    if (read.detectors.length !== 60) throw new Error(`There are ${read.detectors.length} detectors.`);
    survey = join(folder, 'sixty.yaml');
    writeFileSync(survey, text);
  }
  const dir = join(folder, name);
  const { code, err } = await run(['rehearse', survey, '--seed', '5', '--job', dir], { system: hasty });
  if (code !== 0) throw new Error(`The job was not carried out: ${err}`);
  return dir;
}

/** Writes a job's documents into a folder of their own. */
export function writePapers(dir: string): string {
  const out = `${dir}-papers`;
  writeDocuments(out, composeHandover(readHandoverSource(dir), 'a4-65'));
  return out;
}
