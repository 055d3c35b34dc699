import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatQuantity, parseQuantity, type QuantityKind } from '../../source/electrical/quantity.ts';
import { highWords, lowWords, spanWords } from '../../source/electrical/window-words.ts';
import { betweenMagnitudes, SEED } from './draw.ts';

const OPEN = Number.POSITIVE_INFINITY;

describe('the ways people write a figure', () => {
  test.each<[string, QuantityKind, number]>([
    ['2k2', 'ohms', 2200],
    ['2.2k', 'ohms', 2200],
    ['2,2 k', 'ohms', 2200],
    ['2.23k', 'ohms', 2230],
    ['2.2 kohm', 'ohms', 2200],
    ['2.2 kOhm', 'ohms', 2200],
    ['2.2 kΩ', 'ohms', 2200],
    ['2.2 kilo-ohms', 'ohms', 2200],
    ['2200 ohm', 'ohms', 2200],
    ['2200 Ω', 'ohms', 2200],
    ['4K7', 'ohms', 4700],
    ['4.7K', 'ohms', 4700],
    ['1M', 'ohms', 1e6],
    ['1M5', 'ohms', 1.5e6],
    ['2.2 Mohm', 'ohms', 2.2e6],
    ['R47', 'ohms', 0.47],
    ['0R47', 'ohms', 0.47],
    ['2R2', 'ohms', 2.2],
    ['470R', 'ohms', 470],
    ['70 mohm', 'ohms', 0.07],
    ['OL', 'ohms', OPEN],
    ['ol', 'ohms', OPEN],
    ['O.L', 'ohms', OPEN],
    ['0.L', 'ohms', OPEN],
    ['.OL', 'ohms', OPEN],
    ['open', 'ohms', OPEN],
    ['∞', 'ohms', OPEN],
    ['OL MΩ', 'ohms', OPEN],
    ['0.L kohm', 'ohms', OPEN],
    ['2k2 Ω', 'ohms', 2200],
    ['4K7 ohm', 'ohms', 4700],
    ['2.2 kilohms', 'ohms', 2200],
    ['13.7 V', 'volts', 13.7],
    ['13,7 V', 'volts', 13.7],
    ['0.02V', 'volts', 0.02],
    ['20 mV', 'volts', 0.02],
    ['-12.1 V', 'volts', -12.1],
    ['−12.1 V', 'volts', -12.1],
    ['3V3', 'volts', 3.3],
    ['12 VDC', 'volts', 12],
    ['350mA', 'amps', 0.35],
    ['350 ma', 'amps', 0.35],
    ['1.5 A', 'amps', 1.5],
    ['40 µA', 'amps', 40e-6],
    ['14 m', 'metres', 14],
    ['46 ft', 'metres', 14.0208],
    ["46'", 'metres', 14.0208],
    ['46’', 'metres', 14.0208],
    ['46 feet', 'metres', 14.0208],
    [`46' 6"`, 'metres', 14.1732],
    ['14 m 20 cm', 'metres', 14.2],
    ['150 mm', 'metres', 0.15],
    ['6 in', 'metres', 0.1524],
    ['7 Ah', 'ampHours', 7],
    ['2300 mAh', 'ampHours', 2.3],
    ['12 h', 'seconds', 43200],
    ['15 min', 'seconds', 900],
    ['1 h 30 min', 'seconds', 5400],
    ['300 ms', 'seconds', 0.3],
    ['20 °C', 'celsius', 20],
    ['-5 °C', 'celsius', -5],
    ['68 °F', 'celsius', 20],
    ['5 %', 'fraction', 0.05],
    ['2.5%', 'fraction', 0.025],
    ['0.22 mm²', 'squareMillimetres', 0.22],
    ['0.22 mm2', 'squareMillimetres', 0.22],
  ])('%s as %s is %d', (text, kind, value) => {
    expect(parseQuantity(text, kind)).toEqual({ ok: true, value });
    expect(parseQuantity(`  ${text} `, kind)).toEqual({ ok: true, value });
  });

  test('a bare figure takes the unit of the field where that is allowed, and is refused in a file', () => {
    expect(parseQuantity('2200', 'ohms', 'field-unit')).toEqual({ ok: true, value: 2200 });
    expect(parseQuantity('0.8', 'ohms', 'field-unit')).toEqual({ ok: true, value: 0.8 });
    expect(parseQuantity('12', 'seconds', 'h')).toEqual({ ok: true, value: 43200 });
    expect(parseQuantity('20', 'fraction', 'field-unit')).toEqual({ ok: true, value: 0.2 });
    expect(parseQuantity('2200', 'ohms')).toEqual({
      ok: false,
      says: '"2200" has no unit. Write 2.2k, 2k2, 2200 ohm, or OL for an open circuit.',
    });
  });
});

describe('what is refused, with what would be accepted', () => {
  const OHMS = 'Write 2.2k, 2k2, 2200 ohm, or OL for an open circuit.';
  const VOLTS = 'Write 12 V, 13.7 V or 20 mV.';
  test.each<[string, QuantityKind, string]>([
    ['', 'ohms', `Nothing was written. ${OHMS}`],
    ['banana', 'ohms', `"banana" is no figure. ${OHMS}`],
    ['12 V', 'ohms', `"12 V" is a voltage, not a resistance. ${OHMS}`],
    ['2k2', 'volts', `"2k2" holds more than one figure. ${VOLTS}`],
    ['5m', 'ohms', `"5m" has a small m, which could be milli or mega. ${OHMS}`],
    ['1,000', 'ohms', `"1,000" could mean thousands or decimals. ${OHMS}`],
    ['1.2.3', 'ohms', `"1.2.3" is no figure. ${OHMS}`],
    ['12 13', 'ohms', `"12 13" is no figure. ${OHMS}`],
    ['-3', 'ohms', `"-3" is below zero, as a meter shows when a voltage stands on the wires. ${OHMS}`],
    ['OL', 'volts', `"OL" is what a meter shows of an open circuit, in ohms. ${VOLTS}`],
    ['16 VAC', 'volts', `"16 VAC" names AC, which is asked for by itself. ${VOLTS}`],
    ['12 furlongs', 'volts', `"12 furlongs" has no unit that is known here. ${VOLTS}`],
    ['NaN', 'volts', `"NaN" is no figure. ${VOLTS}`],
    ['0.2', 'fraction', '"0.2" could be a fraction or a percentage. Write 5 %.'],
    ['-300 °C', 'celsius', '"-300 °C" is colder than anything can be. Write 20 °C or 68 °F.'],
    ['-2 m', 'metres', '"-2 m" is below zero. Write 14 m, 46 ft or 150 mm.'],
    ['5 5/8 in', 'metres', '"5 5/8 in" is no figure. Write 14 m, 46 ft or 150 mm.'],
    [
      '30 min 1 h',
      'seconds',
      '"30 min 1 h" holds more than one figure. Write 12 h, 15 min, 1 h 30 min or 300 ms.',
    ],
  ])('%s as %s', (text, kind, says) => {
    expect(parseQuantity(text, kind, 'field-unit')).toEqual({ ok: false, says });
  });

  test(`no text becomes anything but a finite figure, an open circuit or two sentences (seed ${SEED})`, () => {
    const kinds: QuantityKind[] = ['ohms', 'volts', 'amps', 'metres', 'seconds', 'celsius', 'fraction'];
    const words = fc.oneof(
      fc.string(),
      fc.string({ unit: fc.constantFrom(...'0123456789.,-+ kKMRmVAhft%°CΩOL\'"') }),
    );
    fc.assert(
      fc.property(words, fc.constantFrom(...kinds), (text, kind) => {
        const read = parseQuantity(text, kind, 'field-unit');
        if (read.ok) return Number.isFinite(read.value) || (kind === 'ohms' && read.value === OPEN);
        return /\. Write .+\.$/.test(read.says);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });
});

describe('figures for people', () => {
  test.each<[number, QuantityKind, string]>([
    [2234.6, 'ohms', '2.23 kΩ'],
    [999.9, 'ohms', '1 kΩ'],
    [47, 'ohms', '47 Ω'],
    [15.67, 'ohms', '15.7 Ω'],
    [0.1, 'ohms', '0.1 Ω'],
    [2.2e6, 'ohms', '2.2 MΩ'],
    [OPEN, 'ohms', 'open'],
    [0, 'ohms', '0 Ω'],
    [13.7, 'volts', '13.7 V'],
    [11.8734, 'volts', '11.87 V'],
    [0.02, 'volts', '0.02 V'],
    [-12.1, 'volts', '−12.1 V'],
    [0.35, 'amps', '350 mA'],
    [0.9999, 'amps', '1 A'],
    [2.5, 'amps', '2.5 A'],
    [0.0000273, 'amps', '27.3 µA'],
    [14, 'metres', '14 m'],
    [0.15, 'metres', '150 mm'],
    [43200, 'seconds', '12 h'],
    [900, 'seconds', '15 min'],
    [0.3, 'seconds', '300 ms'],
    [0.05, 'fraction', '5 %'],
    [0, 'fraction', '0 %'],
    [20, 'celsius', '20 °C'],
    [0, 'celsius', '0 °C'],
    [0.22, 'squareMillimetres', '0.22 mm²'],
    [7.2, 'ampHours', '7.2 Ah'],
  ])('%d as %s is shown as %s', (value, kind, shown) => {
    expect(formatQuantity(value, kind)).toBe(shown);
  });

  test('in imperial lengths are feet and inches, temperatures Fahrenheit, and ohms stay ohms', () => {
    expect(formatQuantity(14, 'metres', { units: 'imperial' })).toBe('45.9 ft');
    expect(formatQuantity(0.15, 'metres', { units: 'imperial' })).toBe('5.91 in');
    expect(formatQuantity(20, 'celsius', { units: 'imperial' })).toBe('68 °F');
    expect(formatQuantity(2200, 'ohms', { units: 'imperial' })).toBe('2.2 kΩ');
  });

  test('never more digits than are known', () => {
    expect(formatQuantity(4465, 'ohms')).toBe('4.47 kΩ');
    // A half does not fall to either side by the order of a sum.
    expect(formatQuantity(0.14 + 1.205, 'amps')).toBe(formatQuantity(1.345, 'amps'));
    expect(formatQuantity(1.3449999999999998, 'amps')).toBe('1.35 A');
    // Rounded once: to four digits and then to two places it would be 6.73.
    expect(formatQuantity(6.7249, 'volts')).toBe('6.72 V');
    expect(formatQuantity(4465, 'ohms', { digits: 4 })).toBe('4.465 kΩ');
    expect(formatQuantity(4465, 'ohms', { digits: 1 })).toBe('4 kΩ');
  });

  test(`what is shown is read back as the same figure, to the digits shown (seed ${SEED})`, () => {
    const kinds: QuantityKind[] = ['ohms', 'volts', 'amps', 'metres', 'ampHours', 'seconds', 'fraction'];
    fc.assert(
      fc.property(
        betweenMagnitudes(1, 5e6),
        fc.constantFrom(...kinds),
        fc.constantFrom('metric' as const, 'imperial' as const),
        (value, kind, units) => {
          const read = parseQuantity(formatQuantity(value, kind, { units }), kind);
          return read.ok && Math.abs(read.value / value - 1) < 0.006;
        },
      ),
      { seed: SEED, numRuns: 1000 },
    );
  });
});

describe('bounds as they are printed', () => {
  test.each<[number | null, number | null, QuantityKind, string]>([
    // Rounded outwards, by hand.
    [2071, 2343, 'ohms', '2.07 to 2.35 kΩ'],
    [2086, 2335, 'ohms', '2.08 to 2.34 kΩ'],
    [0.8, 1199.2, 'ohms', '0.8 Ω to 1.2 kΩ'],
    [0.801, 4.999, 'ohms', '0.8 to 5 Ω'],
    [999.5, 1000.4, 'ohms', '999 Ω to 1.01 kΩ'],
    [11.4, 12.6, 'volts', '11.4 to 12.6 V'],
    [11.446, 12.601, 'volts', '11.44 to 12.61 V'],
    [-0.504, 0.5, 'volts', '−0.504 to 0.5 V'],
    [5001, null, 'ohms', 'at least 5 kΩ'],
    [null, 60.01, 'ohms', 'at most 60.1 Ω'],
    [null, null, 'ohms', ''],
    [0, 2, 'ohms', '0 to 2 Ω'],
    [1e6, OPEN, 'ohms', '1 MΩ to open'],
    [0.0000001, 0.35, 'amps', '0.1 µA to 350 mA'],
  ])('%s to %s %s: %s', (min, max, kind, words) => {
    expect(spanWords(min, max, kind)).toBe(words);
  });

  test('are never narrower than the bounds, and no wider than one unit of their last place', () => {
    const kinds: QuantityKind[] = ['ohms', 'volts', 'amps', 'metres'];
    fc.assert(
      fc.property(
        betweenMagnitudes(1e-3, 1e7),
        betweenMagnitudes(1, 1e3),
        fc.constantFrom(...kinds),
        (min, factor, kind) => {
          const read = (words: string) => {
            const parsed = parseQuantity(words.replace('−', '-'), kind);
            return parsed.ok ? parsed.value : Number.NaN;
          };
          const low = read(lowWords(min, kind));
          const high = read(highWords(min * factor, kind));
          expect(low).toBeLessThanOrEqual(min * (1 + 1e-9));
          expect(high).toBeGreaterThanOrEqual(min * factor * (1 - 1e-9));
          // Three figures, or two places behind the point of a site meter.
          expect(min - low).toBeLessThanOrEqual(Math.max(min * 0.0101, 0.0101));
          expect(high - min * factor).toBeLessThanOrEqual(Math.max(min * factor * 0.0101, 0.0101));
        },
      ),
      { seed: SEED, numRuns: 3000 },
    );
  });
});
