import { describe, expect, test } from 'vitest';
import type { Building } from '../../source/rehearsal/building/building.ts';
import { circuitOf } from '../../source/rehearsal/building/circuit.ts';
import { drawBuilding } from '../../source/rehearsal/building/draw-building.ts';
import { act, type HandAct } from '../../source/rehearsal/building/hands.ts';
import { observe } from '../../source/rehearsal/building/input.ts';
import { readOhms, readVolts, sweepVolts } from '../../source/rehearsal/building/meter.ts';
import { demoScene } from './demo-scene.ts';

const scene = demoScene();
const { survey, wiring, boards } = scene;
const fresh = (seed: number) => drawBuilding(survey, wiring, boards, seed);
const handled = (building: Building, ...acts: HandAct[]) => acts.reduce(act, building);
const isolate = (source: string): HandAct => ({ do: 'isolate', source });
const DEAD = ['feed', 'battery:1', 'telephone'].map(isolate);
const worked = (building: Building, ...detectors: string[]): Building => ({
  ...building,
  worked: new Set(detectors),
});

describe('the building as found', () => {
  test('is the same for the same seed, and another for another', () => {
    expect(fresh(4)).toEqual(fresh(4));
    expect(fresh(4)).not.toEqual(fresh(5));
  });

  test('feeds aux from the mains, from the battery when the plug is pulled, and from nothing after both', () => {
    const live = fresh(1);
    expect(readVolts(live, 'dc', 'old:17', 'old:18')).toBeGreaterThan(13);
    const onBattery = handled(live, isolate('feed'));
    expect(readVolts(onBattery, 'dc', 'old:17', 'old:18')).toBeGreaterThan(11.5);
    expect(readVolts(onBattery, 'dc', 'old:17', 'old:18')).toBeLessThan(13);
    const dead = handled(onBattery, isolate('battery:1'));
    expect(readVolts(dead, 'dc', 'old:17', 'old:18')).toBe(0);
  });

  test('is not dead while the telephone line is on', () => {
    const points = wiring.conductors.filter(({ atPanel }) => atPanel).map(({ id }) => id);
    const noLine = handled(fresh(1), isolate('feed'), isolate('battery:1'));
    const swept = sweepVolts(noLine, 'dc', points, ['earth', 'panel:-']);
    expect(Math.abs(swept.greatest)).toBeGreaterThan(40);
    expect(swept.at.startsWith('c14/')).toBe(true);
    expect(sweepVolts(handled(fresh(1), ...DEAD), 'dc', points, ['earth', 'panel:-']).greatest).toBe(0);
  });

  test('relays of powered detectors drop when aux goes', () => {
    const live = fresh(1);
    expect(circuitOf(live, 'dc').running.has('loft')).toBe(true);
    const dead = handled(live, ...DEAD);
    expect(circuitOf(dead, 'dc').running.has('loft')).toBe(false);
    const lifted = handled(dead, { do: 'lift', conductor: 'c7/1', at: '13' });
    expect(readOhms(lifted, 'c7/1', 'old:9')).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('a loop that is measured', () => {
  // By hand: two cables out and back, two contacts, all that the survey states; then the meter's own 1 % + 0.5 Ω.
  test('reads what its parts add up to, for 200 seeds', () => {
    for (let seed = 0; seed < 200; seed++) {
      const lifted = handled(fresh(seed), ...DEAD, { do: 'lift', conductor: 'c1/1', at: '8' });
      const ohms = readOhms(lifted, 'c1/1', 'old:6');
      const [a, b] = ['c1/1', 'c2/1'].map((id) => lifted.wires.get(id)!.ohms) as [number, number];
      const contacts = lifted.contacts
        .filter(({ detector }) => detector === 'shutter' || detector === 'side-door')
        .reduce((sum, { closedOhms }) => sum + closedOhms, 0);
      const truth = 2 * a + 2 * b + contacts;
      expect(Math.abs(ohms - truth)).toBeLessThan(0.01 * truth + 0.5);
      expect(readOhms(worked(lifted, 'shutter'), 'c1/1', 'old:6')).toBe(Number.POSITIVE_INFINITY);
    }
  });

  test('shows the resistor at the panel from the screw, and without it from the conductor', () => {
    const dead = handled(fresh(3), ...DEAD, { do: 'remove', what: 'panel' });
    const resistor = dead.resistors.get('z1.end-of-line')!.ohms;
    expect(readOhms(dead, 'old:7', 'join:z1.0') / resistor).toBeCloseTo(1, 1);
  });

  test('shows nonsense on a live circuit, and the hand that touches it is noted', () => {
    const live = fresh(1);
    expect(Math.abs(readOhms(live, 'old:17', 'old:18'))).toBeGreaterThan(1000);
    const lifted = handled(live, { do: 'lift', conductor: 'c7/3', at: '5' });
    expect(lifted.harm.map(({ kind }) => kind)).toEqual(['worked-live']);
    expect(handled(live, ...DEAD, { do: 'lift', conductor: 'c7/3', at: '5' }).harm).toEqual([]);
  });
});

describe('a new board', () => {
  const [board] = boards;
  const landed = (building: Building): Building =>
    handled(
      building,
      ...DEAD,
      { do: 'lift', conductor: 'c8/1', at: '14' },
      { do: 'part', join: 'join:z5.1', conductors: ['c8/2', 'c9/1'] },
      { do: 'land', conductor: 'c8/1', at: 'b1:I1' },
      { do: 'land', conductor: 'c8/2', at: 'b1:C1' },
      { do: 'connect-source', source: 'adapter:b1', board: 'b1' },
    );

  test('sees a contact open and close, and nothing without supply', () => {
    const powered = landed(fresh(2));
    expect(observe(powered, board!, '1')).toBe('closed');
    expect(observe(worked(powered, 'office-door'), board!, '1')).toBe('open');
    expect(observe(powered, board!, '2')).toBe('open');
    expect(observe(handled(powered, isolate('adapter:b1')), board!, '1')).toBe('nothing');
  });

  test('is destroyed by alternating current and by reversed polarity', () => {
    const building = fresh(2);
    const adapter = building.sources.get('adapter:b1')!;
    const wrong = (change: object): Building =>
      landed({
        ...building,
        sources: new Map(building.sources).set('adapter:b1', { ...adapter, ...change }),
      });
    for (const change of [{ mode: 'ac' }, { volts: -12 }]) {
      expect(wrong(change).harm.map(({ kind }) => kind)).toEqual(['board-destroyed']);
      expect(observe(wrong(change), board!, '1')).toBe('nothing');
    }
    expect(landed(building).harm).toEqual([]);
  });
});
