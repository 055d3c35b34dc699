import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { contains, exactly, overlaps, within } from '../../source/electrical/interval.ts';
import {
  type ContactStates,
  type Expression,
  evaluateLoop,
  METER,
  readingWindow,
  trueOhms,
} from '../../source/electrical/loop.ts';
import { scale } from '../scale.ts';
import { between, SEED } from './draw.ts';
import { build, metered, partsOf, randomLoop } from './random-loop.ts';

const OPEN = Number.POSITIVE_INFINITY;
const CABLE_OHMS = 5;
const cable: Expression = { kind: 'cable', id: 'c1', ohms: exactly(CABLE_OHMS) };
const resistor = (ohms: number): Expression => ({ kind: 'resistor', ohms, tolerance: 0 });
const contact = (sense: 'normally-closed' | 'normally-open' | 'unknown', detector = 'door'): Expression => ({
  kind: 'contact',
  detector,
  sense,
  closed: exactly(0),
  unpowered: null,
});
const inRow = (...of: Expression[]): Expression => ({ kind: 'series', of });
const beside = (...of: Expression[]): Expression => ({ kind: 'parallel', of });
const nominal = (expression: Expression, states: ContactStates = {}) =>
  evaluateLoop(expression, states).nominal;

describe('the loop table of each style: at rest, worked, cable cut, cable shorted', () => {
  // Worked by hand from series and parallel rules; Rw 5 Ω of cable, Rs the end resistor, Ra the alarm resistor.
  test('normally closed, no resistor: Rw, open', () => {
    const loop = inRow(cable, contact('normally-closed'));
    expect([nominal(loop), nominal(loop, { door: 'active' })]).toEqual([5, OPEN]);
  });

  test('normally closed, series resistor: Rs + Rw, open', () => {
    const loop = inRow(cable, contact('normally-closed'), resistor(2200));
    expect([nominal(loop), nominal(loop, { door: 'active' })]).toEqual([2205, OPEN]);
  });

  test('normally open, resistor across the end: Rs + Rw, Rw', () => {
    const loop = inRow(cable, beside(contact('normally-open'), resistor(4700)));
    expect([nominal(loop), nominal(loop, { door: 'active' })]).toEqual([4705, 5]);
  });

  test.each([
    [1000, 1000],
    [2200, 2200],
    [4700, 4700],
    [2200, 4700],
    [4700, 6800],
  ])('two resistors %i and %i, normally closed: Rs + Rw, Rs + Ra + Rw', (rs, ra) => {
    const loop = inRow(cable, beside(contact('normally-closed'), resistor(ra)), resistor(rs));
    expect(nominal(loop)).toBe(rs + CABLE_OHMS);
    expect(nominal(loop, { door: 'active' })).toBe(rs + ra + CABLE_OHMS);
  });

  test('two resistors of 1 k, normally open: 1000 and 500, and the cable', () => {
    const loop = inRow(cable, beside(resistor(1000), inRow(contact('normally-open'), resistor(1000))));
    expect([nominal(loop), nominal(loop, { door: 'active' })]).toEqual([1005, 505]);
  });

  test('several contacts each with its own resistor: as many of them as are open add up', () => {
    const own = (name: string) => beside(contact('normally-closed', name), resistor(1000));
    const loop = inRow(cable, own('a'), own('b'), own('c'), resistor(2200));
    const all = ['a', 'b', 'c'].map((_, count, names) =>
      nominal(loop, Object.fromEntries(names.slice(0, count + 1).map((name) => [name, 'active']))),
    );
    expect(all).toEqual([3205, 4205, 5205]);
  });
});

describe('contacts', () => {
  const powered: Expression = {
    kind: 'contact',
    detector: 'loft',
    sense: 'normally-closed',
    closed: { min: 0, nominal: 0.1, max: 50 },
    unpowered: 'open',
  };

  test('a powered detector stands as its relay drops; one that needs no supply stays at rest', () => {
    // Most trip when their supply is cut (1996 retail data sheet of a movement detector).
    expect(nominal(powered, { loft: 'unpowered' })).toBe(OPEN);
    expect(nominal({ ...powered, unpowered: 'closed' }, { loft: 'unpowered' })).toBe(0.1);
    expect(nominal(contact('normally-closed'), { door: 'unpowered' })).toBe(0);
    expect(nominal(contact('normally-open'), { door: 'unpowered' })).toBe(OPEN);
  });

  test('what is not known spans closed to open', () => {
    const unknown = evaluateLoop({ ...powered, unpowered: 'unknown' }, { loft: 'unpowered' });
    expect(unknown).toEqual({ min: 0, nominal: 0.1, max: OPEN });
    expect(evaluateLoop(contact('unknown'), { door: 'active' })).toEqual({ min: 0, nominal: 0, max: OPEN });
  });
});

describe('the meter', () => {
  test('±(1 % + 0.5 Ω), never below zero, and open stays open', () => {
    expect(readingWindow(exactly(2200))).toEqual({ min: 2177.5, nominal: 2200, max: 2222.5 });
    expect(readingWindow(exactly(0.1))).toEqual({ min: 0, nominal: 0.1, max: expect.closeTo(0.601, 9) });
    expect(readingWindow(exactly(OPEN))).toEqual({ min: OPEN, nominal: OPEN, max: OPEN });
  });

  test('±(1 % + 0.05 V) for volts, on both sides of a voltage below zero', () => {
    const { min, max } = readingWindow(exactly(-12), METER.volts);
    expect([min, max]).toEqual([expect.closeTo(-12.17, 9), expect.closeTo(-11.83, 9)]);
  });

  test(`what truly stands there is within what a reading allows (seed ${SEED})`, () => {
    fc.assert(
      fc.property(between(0, 100_000), between(-1, 1), between(-1, 1), (ohms, gain, offset) => {
        const reading = metered(ohms, gain, offset);
        const inWindow = contains(readingWindow(exactly(ohms)), reading);
        const { min, max } = trueOhms(reading);
        return inWindow && min <= ohms + 1e-9 && ohms - 1e-9 <= max;
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });
});

describe('bounds', () => {
  test(`hold the value of every true circuit, in every state of its contacts (seed ${SEED})`, () => {
    const states = fc.array(fc.constantFrom('rest' as const, 'active' as const), {
      minLength: 3,
      maxLength: 3,
    });
    fc.assert(
      fc.property(randomLoop(), states, (loop, worked) => {
        const stand = Object.fromEntries(loop.detectors.map(({ name }, at) => [name, worked[at]!]));
        const truth = evaluateLoop(build(loop, partsOf('true')), stand);
        const known = evaluateLoop(build(loop, partsOf('surveyed')), stand);
        return truth.min === truth.max && contains(known, truth.nominal) && contains(known, known.nominal);
      }),
      { seed: SEED, numRuns: scale(20_000, 0.15) },
    );
  });

  test('are no wider than the parts allow: every end of them is the value of some true circuit', () => {
    const loop = inRow(
      { kind: 'cable', id: 'c1', ohms: { min: 3, nominal: 5, max: 8 } },
      beside(
        { kind: 'resistor', ohms: 1000, tolerance: 0.05 },
        { kind: 'resistor', ohms: 2000, tolerance: 0.05 },
      ),
    );
    const { min, max } = evaluateLoop(loop, {});
    expect(min).toBeCloseTo(3 + 1 / (1 / 950 + 1 / 1900), 9);
    expect(max).toBeCloseTo(8 + 1 / (1 / 1050 + 1 / 2100), 9);
  });
});

describe('5 % parts behind up to 100 Ω of loop: which neighbours can be told apart', () => {
  // By hand: upper bound of the lower part + 100 Ω against the lower bound of the upper part.
  test.each([
    [1000, 1500, 1150, 1425],
    [2000, 2200, 2200, 2090],
    [2200, 2700, 2410, 2565],
    [3300, 3900, 3565, 3705],
    [3900, 4700, 4195, 4465],
    [4700, 5100, 5035, 4845],
    [5100, 5600, 5455, 5320],
    [4700, 5600, 5035, 5320],
    [5600, 6800, 5980, 6460],
    [8200, 10_000, 8710, 9500],
  ])('%i and %i: %i against %i', (lower, upper, highest, lowest) => {
    const residual = { min: 0, nominal: 0, max: 100 };
    const windowOf = (ohms: number, tolerance: number) => {
      const part = within(ohms, tolerance);
      return { min: part.min, max: part.max + residual.max };
    };
    expect(windowOf(lower, 0.05).max).toBeCloseTo(highest, 6);
    expect(windowOf(upper, 0.05).min).toBeCloseTo(lowest, 6);
    expect(overlaps(windowOf(lower, 0.05), windowOf(upper, 0.05))).toBe(highest >= lowest);
    expect(overlaps(windowOf(lower, 0.01), windowOf(upper, 0.01))).toBe(false);
  });
});
