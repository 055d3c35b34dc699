import { describe, expect, test } from 'vitest';
import type { OpenStep } from '../../../source/job/action.ts';
import { report, scale } from '../../scale.ts';
import { type Difference, type Walked, walkDrawn } from './differences.ts';
import { KNOWN } from './known.ts';
import { slipsOf } from './slips.ts';

const sites = scale(1999, 0.004);

/** From this seed on things are left out of cards. */
const SLIPPING = 2000;

const walked = new Map<number, Walked | null>();
function walk(seed: number): Walked | null {
  if (!walked.has(seed))
    walked.set(
      seed,
      seed < SLIPPING ? walkDrawn(seed) : walkDrawn(seed, undefined, undefined, slipsOf(seed)),
    );
  return walked.get(seed)!;
}
const isNew = ({ category }: Difference) => !(category in KNOWN);

describe('somebody who does what the acts of a card say, in their order, and nothing else', () => {
  test(`meets on ${sites} drawn sites no difference but the known ones (seeds from 1)`, () => {
    const counts = { sites: 0, blocked: 0, cards: 0, acts: 0, readings: 0, 'known differences': 0 };
    for (let seed = 1; seed <= sites; seed++) {
      const done = walk(seed);
      if (done === null) {
        counts.blocked += 1;
        continue;
      }
      const fresh = done.differences.filter(isNew).slice(0, 10);
      expect({ seed, closed: done.closed, fresh }).toEqual({ seed, closed: true, fresh: [] });
      counts.sites += 1;
      counts.cards += done.cards;
      counts.acts += done.acts;
      counts.readings += done.readings;
      counts['known differences'] += done.differences.length;
      // What is kept of each is for the other tests of an ordinary run.
      if (seed > 40) walked.delete(seed);
    }
    report('Jobs done to the letter', [counts]);
    report('Known differences', [{ left: Object.keys(KNOWN).length }]);
  }, 14_400_000);

  const slipping = scale(1000, 0.004);
  test(`who leaves things out and says so finds them in the record as they are, on ${slipping} drawn sites (seeds from 2000)`, () => {
    const counts = { sites: 0, 'left out': 0, 'cards that met it': 0 };
    for (let seed = SLIPPING; seed < SLIPPING + slipping; seed++) {
      const done = walk(seed);
      if (done === null) continue;
      // Windows do not follow yet what was left out: what is read after it is odd, and said to be.
      const wrong = done.differences
        .filter(isNew)
        .filter(({ category }) => /^(record|harm|misread)/.test(category));
      if (seed > SLIPPING + 40) walked.delete(seed);
      expect({ seed, closed: done.closed, wrong }).toEqual({ seed, closed: true, wrong: [] });
      counts.sites += 1;
      counts['left out'] += done.slips.length;
      counts['cards that met it'] += done.differences.filter(isNew).length;
    }
    report('Jobs of which something was left out', [counts]);
  }, 7_200_000);

  test('leaves a resistor in beside a new one of its own value, and the record has both (seed 2441)', () => {
    const done = walk(2441)!;
    expect(done.slips).toEqual(['resistors.z3']);
    expect(done.differences.filter(({ category }) => category.startsWith('record'))).toEqual([]);
  });

  test('still meets each known difference: one that is gone goes from known.ts', () => {
    const gone = Object.entries(KNOWN).filter(
      ([category, seed]) => !walk(seed)?.differences.some((one) => one.category === category),
    );
    expect(gone).toEqual([]);
  }, 1_200_000);
});

type Change = (step: OpenStep, acts: OpenStep['acts']) => OpenStep['acts'];

/** A site that has what is disturbed here. */
const SEED = 2;
function disturbed(change: Change): string[] {
  const known = new Set(walk(SEED)!.differences.map(({ says }) => says));
  const read = (step: OpenStep) => ({ ...step, acts: change(step, step.acts) });
  const { differences } = walkDrawn(SEED, { unknowns: false }, read)!;
  return differences.map(({ says }) => says).filter((says) => !known.has(says));
}
const first = (of: RegExp, change: (acts: OpenStep['acts']) => OpenStep['acts']): Change => {
  let at: string | null = null;
  return (step, acts) => {
    if (at === null && of.test(step.id) && acts.length > 1) at = step.id;
    return step.id === at ? change(acts) : acts;
  };
};

describe('a card with one act that is wrong is found out', () => {
  test.each<[string, Change]>([
    ['a landing is left out', first(/^rewire\./, (acts) => acts.slice(1))],
    [
      'two wires are landed on one another’s terminals',
      first(/^rewire\./, ([one, two, ...rest]) =>
        one?.do === 'land' && two?.do === 'land'
          ? [{ ...one, at: two.at }, { ...two, at: one.at }, ...rest]
          : [],
      ),
    ],
    ['what is under a screw is not lifted', first(/^clear\.(strip|aux)/, (acts) => acts.slice(1))],
    [
      'a wire is landed that is not there',
      first(/^rewire\./, (acts) =>
        acts.map((act) => (act.do === 'land' ? { ...act, conductor: 'c99/1' } : act)),
      ),
    ],
    [
      'the battery is not taken off',
      (_, acts) => acts.filter((act) => act.do !== 'isolate' || act.source !== 'battery:1'),
    ],
  ])(
    '%s',
    (_, change) => {
      expect(disturbed(change)).not.toEqual([]);
    },
    120_000,
  );
});
