import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Action } from '../../source/job/action.ts';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { folder } from './small-job.ts';

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), 'utf8');

export const DEMO_TEXT = fixture('sailing-club/survey.yaml');
export const SHIFT: Action = { do: 'start-shift', name: 'Nadia', instrument: 'meter 3', zero: '0.2' };

/** The demo, or a survey like it, as a job of its own with somebody on shift. */
export function demoJob(surveyText = DEMO_TEXT): Job {
  const job = createJob({
    surveyText,
    surveyFile: 'survey.yaml',
    boards: [{ id: 'b1', file: 'eight-paired', text: fixture('boards/eight-paired.yaml') }],
    dir: join(folder(), 'job'),
    system: realSystem(),
  });
  if (!(job instanceof Job)) throw new Error('It cannot be planned.');
  job.act(SHIFT);
  return job;
}
