import { describe, expect, test } from 'vitest';
import { buildDocument } from '../../source/handover/build-document.ts';
import { documentToText } from '../../source/handover/document-text.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { readHistory } from '../../source/job/history.ts';
import type { Job } from '../../source/job/job.ts';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import { DEMO, randomSite, type Site, withJob } from './run-rehearsal.ts';
import { portOf } from './trial.ts';

function rehearsed(site: Site, seed: number, look: (job: Job) => void) {
  return withJob(site, (job, scene) => {
    const done = rehearse(portOf(job), scene, seed, ['hidden-detector']);
    expect(done.worked).toMatchObject({ closed: true, refusals: [] });
    expect(done.harm).toEqual([]);
    look(job);
    return done;
  })!;
}

describe('a contact that no paper shows', () => {
  test.each([
    [4, 'measure'],
    [16, 'power-up'],
  ])('found with seed %i in the stage %s, is planned for, walked and handed over', (seed, stage) => {
    const { caught } = rehearsed(DEMO, seed, (job) => {
      const { zones, detectors } = job.plan.survey;
      const found = detectors.find(({ id }) => id === 'found')!;
      const zone = zones.find((one) => one.detectors.includes('found'))!;
      expect(found.name).toMatch(/^Window behind /);
      expect(zone.fieldSets.some((set) => set.includes('found') && set.length === 2)).toBe(true);

      const walked = job.results.get('walk.found')!.at(-1)!;
      expect(walked.outcome).toBe('passed');
      // Worked, and let go again: it was the window itself that was opened and shut.
      expect(Object.values(walked.values).map(({ typed }) => typed)).toEqual(['open', 'closed']);

      const corrections = [...readHistory(job.dir)].filter(({ data }) => data.do === 'correct');
      expect(corrections.map(({ data }) => data.reason)).toEqual([
        expect.stringMatching(/^Found on the spot: a window that the survey does not know stood open/),
      ]);
      const handover = documentToText(buildDocument(readHandoverSource(job.dir)));
      expect(handover).toContain(found.name);
      expect(handover).toContain('found-cable');
    });
    expect(caught.map(({ stage: at, rank }) => [at, rank])).toEqual([[stage, 1]]);
  });

  // By hand: inside a resistor across both, one contact cannot be told from the other, so they are one detector.
  test('behind the resistor of another one becomes a part of that one', () => {
    rehearsed(randomSite(17), 17, (job) => {
      const names = job.plan.survey.detectors.map(({ name }) => name);
      expect(names.filter((name) => / and Window behind /.test(name)).length).toBe(1);
    });
  });
});
