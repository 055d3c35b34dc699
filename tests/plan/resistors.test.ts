import { describe, expect, test } from 'vitest';
import type { Plan } from '../../source/plan/plan.ts';
import type { Board } from '../../source/site/board.ts';
import { planOfShed } from './quiet-site.ts';

const supervised =
  (supervision: Board['supervision']) =>
  (quiet: Board): Board => ({
    ...quiet,
    // Thresholds of such an input mean nothing here: its windows do.
    supervision,
  });
const one = supervised({ style: 'series', resistorOhms: 1000, alarmResistorOhms: null, window: 0.2 });
const two = supervised({ style: 'two-resistor', resistorOhms: 2200, alarmResistorOhms: 4700, window: 0.15 });

const loop = (loop: object) => [{ path: 'zones.z1.loop', value: loop as never }];
const circuitsOf = (plan: Plan, zone: string) => plan.circuits.filter(({ fromZone }) => fromZone === zone);

describe('what becomes of resistors', () => {
  test('an input that surely reads closed with 1 k in the row keeps it', () => {
    // 2.2 k pull-up to 3.3 V, closed below 0.8 V: 2090 · 0.8 / 2.5 = 669 Ω at most; 1 k is too much.
    const [crew] = circuitsOf(planOfShed(), 'z2');
    expect(crew!.resistor).toMatchObject({ work: 'remove', ohms: 1000, at: 'panel' });
    expect(crew!.ifResistorLeft).toBe('between');
    // 10 k: 9500 · 0.8 / 2.5 = 3040 Ω, and half of it is 1520 Ω.
    const board = (quiet: Board) => ({ ...quiet, sensing: { ...quiet.sensing, pullUpOhms: 10_000 } });
    const [kept] = circuitsOf(planOfShed({ board }), 'z2');
    expect(kept!.resistor).toMatchObject({ work: 'keep', ohms: 1000 });
    expect(kept!.rest.expected).toMatchObject({ nominal: expect.closeTo(1001.69, 1) });
  });

  test('a board that supervises with the value that is there keeps it, and fits it where there is none', () => {
    const plan = planOfShed({ board: one });
    expect(circuitsOf(plan, 'z2')[0]!.resistor).toMatchObject({ work: 'keep', ohms: 1000 });
    expect(circuitsOf(plan, 'z1').map(({ resistor }) => [resistor.work, resistor.newOhms])).toEqual([
      ['fit', 1000],
      ['fit', 1000],
    ]);
    expect(plan.parts).toContainEqual({
      item: 'resistor 1 kΩ',
      count: 2,
      for: ['input b1/1', 'input b1/2'],
    });
  });

  test('of a split zone one input keeps the resistor and the other gets its own', () => {
    const plan = planOfShed({
      board: one,
      changes: loop({ style: 'series', resistor: '1k', resistorAt: 'panel' }),
    });
    expect(circuitsOf(plan, 'z1').map(({ resistor }) => resistor.work)).toEqual(['keep', 'fit']);
    // 1 k less 5 %, read 1 % and 0.5 Ω low, and a little cable.
    for (const { rest } of circuitsOf(plan, 'z1')) {
      const least = typeof rest.expected === 'object' ? rest.expected?.min : undefined;
      expect(least).toBeGreaterThan(940);
      expect(least).toBeLessThan(942);
    }
  });

  test('another value is replaced, and the loop reads it then', () => {
    const plan = planOfShed({ board: one, changes: [{ path: 'zones.z2.loop.resistor', value: '4k7' }] });
    const [crew] = circuitsOf(plan, 'z2');
    expect(crew!.resistor).toMatchObject({ work: 'replace', ohms: 4700, newOhms: 1000 });
    expect(crew!.rest).toMatchObject({ usable: { min: 800, max: 1200 } });
    expect(plan.zones[1]!.fitted).toMatchObject([
      { work: 'replace', ohms: 4700, newOhms: 1000, at: 'panel' },
    ]);
  });

  test('two resistors: at rest the one in the row, in alarm both; worked contacts have a window of their own', () => {
    const plan = planOfShed({ board: two });
    const [bay] = circuitsOf(plan, 'z1');
    expect(bay!.resistor).toMatchObject({ work: 'fit', newOhms: 2200, newAlarmOhms: 4700 });
    expect(bay!.rest.expected).toMatchObject({ nominal: expect.closeTo(2201.3, 0) });
    // 2200 + 4700 in alarm, ±15 %: published sums of such pairs, 2.2 k + 4.7 k = 6900.
    expect(bay!.active.bay!.expected).toMatchObject({ nominal: expect.closeTo(6901, 0) });
    expect(bay!.active.bay!.usable).toEqual({ min: 6900 * 0.85, max: 6900 * 1.15 });
  });

  test('every resistor of a bridged loop goes, each at its own door', () => {
    const bridges = { bay: '1k', hatch: '2k2' };
    const plan = planOfShed({ changes: loop({ style: 'bridged', bridges }) });
    expect(plan.zones[0]!.fitted.map(({ role, ohms, at, work }) => [role, ohms, at, work])).toEqual([
      ['bridge', 1000, { detector: 'bay' }, 'remove'],
      ['bridge', 2200, { detector: 'hatch' }, 'remove'],
    ]);
    for (const { active, detectors } of circuitsOf(plan, 'z1'))
      expect(active[detectors[0]!]!.expected).toBe('open');
    // As found: 1 k with the bay worked, 3.2 k with both.
    const worked = plan.points.find(({ id }) => id === 'found.z1.active.bay')!;
    expect(worked.window.expected).toMatchObject({ nominal: expect.closeTo(1002.3, 0) });
    expect(plan.findings.find(({ code }) => code === 'resistor-at-detector')?.figures).toEqual({
      resistors: 2,
    });
  });

  test('a resistor at the panel never watched the cable: nothing is lost with it', () => {
    expect(planOfShed().zones.map(({ supervisionLost }) => supervisionLost)).toEqual([null, null]);
  });
});
