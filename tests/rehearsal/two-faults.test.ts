import { describe, expect, test } from 'vitest';
import { FAULTS } from '../../source/rehearsal/building/faults/list.ts';
import { seededRandom } from '../../source/rehearsal/building/random.ts';
import { report, scale } from '../scale.ts';
import { foresee, siteOf, tryFaults } from './trial.ts';

const names = FAULTS.map(({ name }) => name);
const pairs = scale(500, 0.016);

describe('a building with two faults', () => {
  test(`gives both away in 95 % of ${pairs} rehearsals where both show (seeds from 1)`, () => {
    const random = seededRandom(23, 'pairs');
    const counts = { placed: 0, bothShow: 0, bothCaught: 0, closed: 0 };
    const broken: string[] = [];
    for (let seed = 1; seed <= pairs; seed++) {
      const [first, second] = random.shuffled(names) as [string, string];
      const site = siteOf(seed);
      const [one, other, both] = foresee(site, seed, [[first], [second], [first, second]]);
      const trial = tryFaults(site, seed, [first, second], both!);
      if (trial === null || trial.rehearsal.faults.length < 2) continue;
      const { worked, missed } = trial.rehearsal;
      counts.placed += 1;
      if (worked.closed) counts.closed += 1;
      else broken.push(`seed ${seed}, ${first} and ${second}: ${worked.stuck[0]}`);
      if (one!.length === 0 || other!.length === 0) continue;
      counts.bothShow += 1;
      if (missed.length === 0) counts.bothCaught += 1;
    }
    report('Two faults', [counts]);
    expect(broken).toEqual([]);
    expect(counts.bothShow).toBeGreaterThan(pairs / 4);
    expect(counts.bothCaught / counts.bothShow).toBeGreaterThanOrEqual(0.95);
  }, 14_400_000);
});
