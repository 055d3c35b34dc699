import { describe, expect, test } from 'vitest';
import { awgConductor, cableLoopOhms } from '../../source/electrical/conductor.ts';
import { exactly } from '../../source/electrical/interval.ts';
import { type SupplyBranch, solveSupplyTree } from '../../source/electrical/supply.ts';

const FEET = 0.3048;
const load = (id: string, amps: number) => ({ id, amps: exactly(amps) });
const leg = (
  id: string,
  loopOhms: number,
  loads: SupplyBranch['loads'],
  branches: readonly SupplyBranch[] = [],
): SupplyBranch => ({ id, loopOhms: exactly(loopOhms), loads, branches });
const dropAt = (volts: number, branches: readonly SupplyBranch[], id: string) =>
  volts - solveSupplyTree({ source: exactly(volts), branches }).get(id)!.nominal;

describe('published worked examples', () => {
  test('100 ft of 16 AWG stranded at 4 A loses 4.0 V, 16.7 % of 24 V', () => {
    // electrician2.com lpage135, NEC Table 8: 4.99 Ω/kft; exact 3.992 V, 16.63 %.
    const drop = dropAt(24, [leg('run', 2 * 100 * 0.00499, [load('bell', 4)])], 'bell');
    expect(drop).toBeCloseTo(3.992, 9);
    expect(Math.abs(drop - 4)).toBeLessThan(0.05);
  });

  // K 12.9 Ω·cmil/ft, two wires: tradelicenseprep.com (7.9 and 3.1 V), calculators9.com.
  const byCircularMils = (amps: number, feet: number, cmil: number) =>
    dropAt(120, [leg('run', (2 * 12.9 * feet) / cmil, [load('load', amps)])], 'load');

  test('20 A over 100 ft of 12 AWG loses 7.9 V, and of 8 AWG 3.1 V', () => {
    expect(byCircularMils(20, 100, 6530)).toBeCloseTo(7.902, 3);
    expect(byCircularMils(20, 100, 16510)).toBeCloseTo(3.125, 3);
  });

  test('three appliances on 14 AWG: 0.391, 0.944 and 1.174 V by the point-to-point method', () => {
    // Inputs: firetech.com #111 (14 AWG solid 3.07 Ω/kft, legs 25, 50, 50 ft, 0.75, 1.05, 0.75 A). Its answers
    // are cut off; these are by hand, and ngspice gave 20.0086, 19.4560 and 19.2257 V from 20.4 V.
    const chain = [
      leg(
        'a',
        2 * 0.025 * 3.07,
        [load('first', 0.75)],
        [
          leg(
            'b',
            2 * 0.05 * 3.07,
            [load('second', 1.05)],
            [leg('c', 2 * 0.05 * 3.07, [load('third', 0.75)])],
          ),
        ],
      ),
    ];
    const volts = solveSupplyTree({ source: exactly(20.4), branches: chain });
    expect(volts.get('first')?.nominal).toBeCloseTo(20.0086, 4);
    expect(volts.get('second')?.nominal).toBeCloseTo(19.456, 4);
    expect(volts.get('third')?.nominal).toBeCloseTo(19.2257, 4);
    // The lump-sum method, all current through the whole length, would say 1.957 V: it is not used.
    expect(20.4 - volts.get('third')!.nominal).toBeLessThan(1.9571 - 0.7);
  });

  test('2.5 mm² at ρ 0.0225 loses 18 mV per ampere and metre', () => {
    // BS 7671 Table 4D2B (voltdropcalc.com UK).
    expect(dropAt(230, [leg('run', (2 * 0.0225) / 2.5, [load('load', 1)])], 'load')).toBeCloseTo(0.018, 9);
  });

  test('10 A over 21 ft asks for 6271 circular mils at 3 % of 12 V', () => {
    // Marine catalogue pp. 52-53: CM = 10.75 · I · L / E, L the whole way out and back.
    const drop = dropAt(12, [leg('run', (10.75 * 21) / 6271, [load('pump', 10)])], 'pump');
    expect(drop / 12).toBeCloseTo(0.03, 4);
  });

  test('detector 17 mA, relay 60 mA and siren 200 mA draw 0.277 A together', () => {
    // Network-camera input wiring note: aux budget of a 1.2 A supply.
    const drop = dropAt(12, [leg('run', 1, [load('a', 0.017), load('b', 0.06), load('c', 0.2)])], 'a');
    expect(drop).toBeCloseTo(0.277, 9);
  });
});

describe('published figures that are not reproduced', () => {
  test('15 A over 100 ft of 12 AWG loses 5.926 V, not "5.94 V"', () => {
    // calculators9.com: a slip of rounding, 12.9 · 2 · 15 · 100 / 6530.
    const drop = dropAt(120, [leg('run', (2 * 12.9 * 100) / 6530, [load('load', 15)])], 'load');
    expect(drop).toBeCloseTo(5.926, 3);
    expect(Math.abs(drop - 5.94)).toBeGreaterThan(0.01);
  });

  test('1500 ft of 18 AWG at 0.3 A loses 5.86 V, not the "2.91 V" of one conductor', () => {
    // "Cable sizing", scribd 304886993: 6.51 Ω/kft, the return wire forgotten; 24 V leaves 18.1, not 21.09 V.
    const drop = dropAt(24, [leg('run', 2 * 1.5 * 6.51, [load('load', 0.3)])], 'load');
    expect(drop).toBeCloseTo(5.859, 3);
    expect(drop / 2.91).toBeGreaterThan(1.9);
  });

  test('the constant 0.0164 · I · L / S of one page is 4.9 % below annealed copper', () => {
    // energy-solutions.co.uk.
    const ours = cableLoopOhms(
      { name: '1 mm2', areaSquareMillimetres: 1, system: 'metric' },
      exactly(0.5),
      20,
    );
    expect(0.0164 / ours.nominal).toBeCloseTo(0.951, 3);
  });

  test('K 21.6 with twice the length counts the return wire twice', () => {
    // cal8.calculator.city: 21.6 is already 2 × 10.8.
    const perFoot = cableLoopOhms(awgConductor(18), exactly(FEET), 20).nominal;
    expect((21.6 * 2) / 1624.3 / perFoot).toBeCloseTo(2.08, 2);
  });
});

describe('bounds', () => {
  test('least from the lowest source, longest cable and largest current, most from the others', () => {
    const volts = solveSupplyTree({
      source: { min: 11, nominal: 12, max: 13 },
      branches: [
        {
          id: 'run',
          loopOhms: { min: 1, nominal: 2, max: 3 },
          loads: [{ id: 'loft', amps: { min: 0.1, nominal: 0.2, max: 0.3 } }],
          branches: [],
        },
      ],
    });
    expect(volts.get('loft')).toEqual({ min: 11 - 0.9, nominal: 12 - 0.4, max: 13 - 0.1 });
  });

  test('a load sees nothing of what hangs on another run', () => {
    const alone = [leg('a', 5, [load('one', 0.1)])];
    const both = [...alone, leg('b', 5, [load('two', 1)])];
    expect(dropAt(12, both, 'one')).toBe(dropAt(12, alone, 'one'));
  });

  test('an overloaded run goes below zero instead of hiding it', () => {
    expect(dropAt(12, [leg('a', 100, [load('one', 1)])], 'one')).toBe(100);
  });
});
