import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Diagnosis, diagnoseReadings, type LoopReading } from '../../source/electrical/diagnose.ts';
import { faultVariants } from '../../source/electrical/fault-variants.ts';
import { contains } from '../../source/electrical/interval.ts';
import {
  type ContactStates,
  type Expression,
  evaluateLoop,
  readingWindow,
} from '../../source/electrical/loop.ts';
import { TRADE_VALUES } from '../../source/electrical/resistor-values.ts';
import { report, scale } from '../scale.ts';
import { between, SEED } from './draw.ts';
import { FAULTS, randomFault } from './random-fault.ts';
import { build, metered, partsOf, randomLoop } from './random-loop.ts';

const cases = fc.record({
  circuit: randomFault(),
  gains: fc.array(between(-1, 1), { minLength: 4, maxLength: 4 }),
  offsets: fc.array(between(-1, 1), { minLength: 4, maxLength: 4 }),
});

type Diagnosed = { readonly cause: string; readonly found: readonly Diagnosis[] };

/** Single faults of random loops, as far as some reading of the loop leaves its window. */
function diagnosed(count: number, taken: 'first-wrong' | 'all'): Diagnosed[] {
  return fc.sample(cases, { numRuns: count, seed: SEED }).flatMap(({ circuit, gains, offsets }) => {
    const { loop, wall, cause } = circuit;
    const expected = build(loop, partsOf('surveyed'));
    const states: ContactStates[] = [
      {},
      ...loop.detectors.map(({ name }) => ({ [name]: 'active' as const })),
    ];
    const readings: LoopReading[] = states.map((one, at) => ({
      ohms: metered(evaluateLoop(wall, one).nominal, gains[at]!, offsets[at]!),
      states: one,
    }));
    const wrong = readings.find(
      (one) => !contains(readingWindow(evaluateLoop(expected, one.states)), one.ohms),
    );
    if (wrong === undefined) return [];
    const used = taken === 'all' ? readings : [wrong];
    return [{ cause, found: diagnoseReadings(used, expected, faultVariants(expected)) }];
  });
}

function shares(all: readonly Diagnosed[]) {
  const rankOf = ({ cause, found }: Diagnosed) =>
    found.find((one) => one.cause === cause)?.rank ?? Number.POSITIVE_INFINITY;
  const upTo = (rank: number) => all.filter((one) => rankOf(one) <= rank).length / all.length;
  return { first: upTo(1), firstThree: upTo(3) };
}

test.each(['first-wrong', 'all'] as const)(
  `single faults that leave the window are found, from %s readings (seed ${SEED})`,
  (taken) => {
    const all = diagnosed(scale(5000, 0.2), taken);
    const { first, firstThree } = shares(all);
    const percent = (part: number) => `${(100 * part).toFixed(2)} %`;
    report(
      `Diagnosis of single faults from ${taken} readings (seed ${SEED})`,
      ['all of them', ...Object.keys(FAULTS)].map((cause) => {
        const of = all.filter((one) => cause === 'all of them' || one.cause === cause);
        const share = shares(of);
        return {
          fault: cause,
          cases: of.length,
          'first rank': percent(share.first),
          'first three': percent(share.firstThree),
        };
      }),
    );
    expect(all.length).toBeGreaterThan(300);
    expect(first).toBeGreaterThanOrEqual(0.9);
    expect(firstThree).toBeGreaterThanOrEqual(0.99);
    for (const { found } of all) {
      const sizes = found.map(({ rank }) => found.filter((one) => one.rank === rank).length);
      expect(Math.max(0, ...sizes)).toBeLessThanOrEqual(3);
    }
  },
);

test(`a slip of prefix or point in a sound reading is among the first causes (seed ${SEED})`, () => {
  const shown = [1000, 1 / 1000, 10, 1 / 10];
  const sound = fc.record({ loop: randomLoop(), at: fc.nat(), slip: fc.constantFrom(...shown) });
  const ranks = fc.sample(sound, { numRuns: scale(4000, 0.2), seed: SEED }).flatMap(({ loop, at, slip }) => {
    const expected = build(loop, partsOf('surveyed'));
    const wall = build(loop, partsOf('true'));
    const states: ContactStates[] = [
      {},
      ...loop.detectors.map(({ name }) => ({ [name]: 'active' as const })),
    ];
    const one = states[at % states.length]!;
    const truth = evaluateLoop(wall, one).nominal;
    const noted = truth / slip;
    const window = readingWindow(evaluateLoop(expected, one));
    // An open loop has no prefix; and what fits all the same is no finding.
    if (!Number.isFinite(truth) || contains(window, noted)) return [];
    const found = diagnoseReadings([{ ohms: noted, states: one }], expected, faultVariants(expected));
    return [{ slip, rank: found.find(({ cause }) => cause === 'misread-figure')?.rank ?? 9 }];
  });
  const share = (of: typeof ranks, most: number) => of.filter(({ rank }) => rank <= most).length / of.length;
  report(
    `Slips in sound readings (seed ${SEED})`,
    shown.map((slip) => {
      const of = ranks.filter((one) => one.slip === slip);
      return {
        shown: `${slip} times`,
        cases: of.length,
        'first rank': share(of, 1),
        'first three': share(of, 3),
      };
    }),
  );
  expect(ranks.length).toBeGreaterThan(300);
  expect(share(ranks, 3)).toBeGreaterThanOrEqual(0.99);
  // A kilo too few or too many is what is slipped most: with the causes that are looked for first.
  const kilo = ranks.filter(({ slip }) => slip === 1000 || slip === 1 / 1000);
  expect(share(kilo, 1)).toBeGreaterThanOrEqual(0.9);
});

test(`a second resistor of another value, in series or in parallel, is named (seed ${SEED})`, () => {
  const joined = fc.record({
    loop: randomLoop().filter(({ resistor }) => resistor !== null),
    second: fc.noBias(fc.constantFrom(...TRADE_VALUES)),
    off: between(0.95, 1.05),
    way: fc.noBias(fc.constantFrom('series' as const, 'parallel' as const)),
  });
  const named = fc
    .sample(joined, { numRuns: scale(3000, 0.1), seed: SEED })
    .flatMap(({ loop, second, off, way }) => {
      if (loop.resistor!.ohms === second) return [];
      const expected = build(loop, partsOf('surveyed'));
      const added: Expression = { kind: 'resistor', ohms: second * off, tolerance: 0 };
      const parts = partsOf('true');
      const wall = build(loop, {
        ...parts,
        resistor: (one) =>
          one === loop.resistor ? { kind: way, of: [parts.resistor(one), added] } : parts.resistor(one),
      });
      const ohms = evaluateLoop(wall, {}).nominal;
      if (contains(readingWindow(evaluateLoop(expected, {})), ohms)) return [];
      const found = diagnoseReadings([{ ohms, states: {} }], expected, faultVariants(expected));
      const cause = found.find((one) => one.cause === `resistors-in-${way}`);
      return [{ isNamed: cause !== undefined, rank: cause?.rank ?? 9 }];
    });
  const share = (test: (one: (typeof named)[number]) => boolean) => named.filter(test).length / named.length;
  report(`Unequal resistors, one reading (seed ${SEED})`, [
    {
      cases: named.length,
      named: share(({ isNamed }) => isNamed),
      'first rank': share(({ rank }) => rank === 1),
    },
  ]);
  expect(named.length).toBeGreaterThan(100);
  expect(share(({ isNamed }) => isNamed)).toBe(1);
});
