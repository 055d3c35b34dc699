import { describe, expect, test } from 'vitest';
import {
  type Supervision,
  supervisedReads,
  supervisionWindows,
} from '../../source/electrical/supervision.ts';

const OPEN = Number.POSITIVE_INFINITY;
const series: Supervision = { style: 'series', resistorOhms: 2200, alarmResistorOhms: null, window: 0.2 };
const two: Supervision = { style: 'two-resistor', resistorOhms: 4700, alarmResistorOhms: 6800, window: 0.1 };

describe('a supervised input', () => {
  test('responds to an increase and to a decrease of its loop', () => {
    // UL 1076 scope 1.4; UL 1023 scope 1.6: an open must be shown.
    expect([0, 1700, 2200, 2300, 2700, OPEN].map((ohms) => supervisedReads(ohms, series))).toEqual([
      'shorted',
      'shorted',
      'normal',
      'normal',
      'cut',
      'cut',
    ]);
  });

  test('with two resistors tells alarm from a cut and from a short', () => {
    // Loop table by hand: 4.7 k + 6.8 k worked is 11.5 k; normally open 4.7 k beside 6.8 k is 2.78 k.
    expect([2, 2780, 4705, 7000, 11_500, OPEN].map((ohms) => supervisedReads(ohms, two))).toEqual([
      'shorted',
      'alarm',
      'normal',
      'between',
      'alarm',
      'cut',
    ]);
  });

  test('1 k in series and 1 k across the contact: 1 k at rest, 2 k worked', () => {
    // protectiveresources.com: four states from 1 kΩ in series and 1 kΩ in parallel at the device.
    const one: Supervision = {
      style: 'two-resistor',
      resistorOhms: 1000,
      alarmResistorOhms: null,
      window: 0.1,
    };
    expect([1000, 2000, 0, OPEN].map((ohms) => supervisedReads(ohms, one))).toEqual([
      'normal',
      'alarm',
      'shorted',
      'cut',
    ]);
    expect(supervisionWindows(one).normal).toEqual({ min: 900, max: 1100 });
  });
});
