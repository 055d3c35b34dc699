import { describe, expect, test } from 'vitest';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import { report, scale } from '../scale.ts';
import { DEMO, randomSite, withJob } from './run-rehearsal.ts';
import { portOf } from './trial.ts';

const sites = scale(2000, 0.005);

describe('a building in which the survey is true', () => {
  test(`is changed over to the end in ${sites} rehearsals, no reading outside its usable window (seeds from 1)`, () => {
    const counts = { closed: 0, cards: 0, readings: 0, unexpected: 0, blocked: 0 };
    for (let seed = 1; seed <= sites; seed++) {
      const site = seed % 8 === 0 ? DEMO : randomSite(seed);
      const done = withJob(site, (job, scene) => rehearse(portOf(job), scene, seed, []));
      if (done === null) {
        counts.blocked += 1;
        continue;
      }
      const { worked, harm } = done;
      const failed = worked.catches.filter(({ outcome }) => outcome === 'failed');
      expect({ seed, failed, refused: worked.refusals, harm, stuck: worked.stuck }).toEqual({
        seed,
        failed: [],
        refused: [],
        harm: [],
        stuck: [],
      });
      expect(worked.closed).toBe(true);
      counts.closed += 1;
      counts.cards += worked.confirmations;
      counts.readings += worked.readings;
      counts.unexpected += worked.catches.length;
    }
    expect(counts.closed).toBeGreaterThan(sites * 0.9);
    report('Fault-free rehearsals', [counts]);
  }, 7_200_000);

  test('the demo is rehearsed the same twice', () => {
    const once = () => withJob(DEMO, (job, scene) => rehearse(portOf(job), scene, 3, []))!.worked;
    expect(once()).toEqual(once());
  });
});
