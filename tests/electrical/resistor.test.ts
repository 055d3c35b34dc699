import electroGrammar from 'electro-grammar';
import resistorData from 'resistor-data';
import { describe, expect, test } from 'vitest';
import { bandsOf, type Colour, parseColours, readBands } from '../../source/electrical/colour-code.ts';
import {
  DECADES,
  isPreferred,
  preferredNeighbours,
  preferredValues,
  seriesOf,
} from '../../source/electrical/e-series.ts';
import { parseQuantity } from '../../source/electrical/quantity.ts';
import { digitsOf, parseResistorCode } from '../../source/electrical/resistor-code.ts';

function bands(text: string) {
  const colours = parseColours(text);
  if (!colours.ok) throw new Error(colours.says);
  const read = readBands(colours.value);
  if (!read.ok) throw new Error(read.says);
  return read.value[0]!;
}

describe('colour code, published examples', () => {
  test.each([
    // EN 60062 text (scribd 38742922).
    ['yellow violet red gold', 4700, 0.05],
    // resistorcolorcodes.org; util.monster.
    ['brown black red gold', 1000, 0.05],
    ['red red orange gold', 22_000, 0.05],
    // elektropage.com.
    ['brown black orange gold', 10_000, 0.05],
    // Textbook page, m.ibooks.qq.com 1036699383.
    ['yellow violet orange silver', 47_000, 0.1],
    // 365electric.com; francois-ouellet.ca.
    ['yellow violet brown gold', 470, 0.05],
    ['yellow violet brown silver', 470, 0.1],
    ['red red black gold', 22, 0.05],
    // pbsiddharthaelectronics.in: three bands, ±20 %.
    ['brown red orange', 12_000, 0.2],
    ['green blue black', 56, 0.2],
    // belab.netlify.app: a valid code of no E24 value.
    ['blue yellow orange gold', 64_000, 0.05],
    // resistor-data, its own description: five bands.
    ['red yellow black brown brown', 2400, 0.01],
    // resistorcolorcodes.org: five bands.
    ['brown black black gold brown', 10, 0.01],
    // By hand.
    ['green blue red gold', 5600, 0.05],
  ])('%s is %d Ω, tolerance %d', (text, ohms, tolerance) => {
    expect(bands(text)).toMatchObject({ ohms, tolerance });
  });

  test('4.7 kΩ of 5 % lies between 4465 and 4935 Ω', () => {
    // EN 60062 text (scribd 38742922).
    const { ohms, tolerance } = bands('yellow violet red gold');
    expect([ohms * (1 - tolerance), ohms * (1 + tolerance)]).toEqual([4465, 4935]);
  });

  test('brown black red is 1 kΩ and not 100 Ω, and orange, yellow and white are no ±3, ±4 or ±0.02 %', () => {
    // 222health.com prints all four; EN 60062:2005 has 10² for red, and no white tolerance at all.
    expect(bands('brown black red').ohms).toBe(1000);
    expect(bands('brown black red orange').tolerance).toBe(0.0005);
    expect(bands('brown black red yellow').tolerance).toBe(0.0002);
    const white = parseColours('brown black red white');
    // White at the end can only be the first digit of the other end, where black is the multiplier.
    expect(white.ok && readBands(white.value)).toMatchObject({
      ok: true,
      value: [{ ohms: 92, tolerance: 0.01 }],
    });
  });

  test('violet is ±0.1 % and grey ±0.05 %', () => {
    // EN 60062:2005; kodekata.net prints ±0.5 % and ±0.1 %.
    expect(bands('brown black black red violet').tolerance).toBe(0.001);
    expect(bands('brown black black red grey').tolerance).toBe(0.0005);
  });
});

describe('bands from either end', () => {
  test('gold and silver are never digits: such bands have one reading', () => {
    const turned = readBands(['gold', 'red', 'violet', 'yellow']);
    expect(turned).toMatchObject({ ok: true, value: [{ ohms: 4700 }] });
    expect(turned.ok && turned.value).toHaveLength(1);
  });

  test('five bands of digit colours can be read both ways, and both are given', () => {
    const both = readBands(['red', 'yellow', 'black', 'brown', 'brown']);
    expect(both.ok && both.value.map(({ ohms, tolerance }) => [ohms, tolerance])).toEqual([
      [2400, 0.01],
      [1_100_000, 0.02],
    ]);
  });

  test('bands that are the same from both ends have one reading', () => {
    const same = readBands(['brown', 'red', 'red', 'brown']);
    expect(same.ok && same.value.map(({ ohms }) => ohms)).toEqual([1200]);
  });

  test('six bands end in the temperature coefficient', () => {
    // EN 60062:2005: brown 100, red 50 ppm/K.
    expect(bands('red yellow black brown brown red')).toMatchObject({
      ohms: 2400,
      tolerance: 0.01,
      perKelvinPpm: 50,
    });
  });

  test.each([
    ['yellow mauve red', '"mauve" is no colour of a resistor band.'],
    ['yellow violet', 'A resistor has 3 to 6 bands and 2 were named.'],
  ])('%s is refused', (text, says) => {
    const read = parseColours(text);
    expect(read.ok ? '' : read.says).toContain(says);
  });

  test('no value starts with black', () => {
    // Two significant digits, IEC 60062: the first is never nought.
    expect(readBands(['black', 'brown', 'red', 'gold'])).toMatchObject({ ok: false });
    // From the other end no tolerance band is black either.
    expect(readBands(['black', 'red', 'yellow', 'brown'])).toMatchObject({ ok: false });
  });

  test('gold at both ends is no value from either', () => {
    expect(readBands(['gold', 'red', 'red', 'gold'])).toEqual({
      ok: false,
      says: 'gold red red gold is no value from either end. Look again: gold and silver are never digits.',
    });
  });

  test('what the bands say is drawn as the same bands', () => {
    for (const ohms of preferredValues('E24', 1, 9.1e6)) {
      const drawn = bandsOf(ohms, 0.05)!;
      expect(readBands(drawn)).toMatchObject({ ok: true, value: [{ ohms, tolerance: 0.05 }] });
    }
    for (const ohms of preferredValues('E96', 10, 9.76e5)) {
      const read = readBands(bandsOf(ohms, 0.01)!);
      expect(read.ok && read.value.some((one) => one.ohms === ohms)).toBe(true);
    }
    expect(bandsOf(1234, 0.05)).toBe(null);
    expect(bandsOf(4700, 0.04)).toBe(null);
  });
});

describe('beside resistor-data', () => {
  // Its notation writes mega with a small m.
  const notationOhms = (written: string) => {
    const notation = written.replace('m', 'M');
    const read = parseQuantity(/[kMR]/.test(notation) ? notation : `${notation} ohm`, 'ohms');
    return read.ok ? read.value : Number.NaN;
  };
  const digits: Colour[] = ['brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet', 'grey', 'white'];
  const multipliers: Colour[] = ['black', 'brown', 'red', 'orange', 'yellow', 'green', 'blue', 'violet'];

  test('all 720 four-band resistors of 5 % with multipliers black to violet', () => {
    let compared = 0;
    for (const first of digits) {
      for (const second of ['black' as Colour, ...digits]) {
        for (const multiplier of multipliers) {
          const all: Colour[] = [first, second, multiplier, 'gold'];
          const [notation, tolerance] = resistorData.bandsToNotation(all, 4);
          const ours = readBands(all);
          expect(ours.ok && ours.value[0]).toMatchObject({
            ohms: notationOhms(notation),
            tolerance: tolerance / 100,
          });
          compared += 1;
        }
      }
    }
    expect(compared).toBe(720);
  });

  // IEC 60062 gives silver 10⁻², gold 10⁻¹, grey 10⁸ and white 10⁹ as multipliers; the package knows none of them.
  test.each<[Colour, number]>([
    ['silver', 0.47],
    ['gold', 4.7],
    ['grey', 4.7e9],
    ['white', 4.7e10],
  ])('multiplier %s is %d Ω here, by IEC 60062, and wrong there', (multiplier, ohms) => {
    const ours = readBands(['yellow', 'violet', multiplier, 'gold']);
    expect(ours.ok && ours.value[0]?.ohms).toBe(ohms);
    let theirs: number;
    try {
      theirs = notationOhms(resistorData.bandsToNotation(['yellow', 'violet', multiplier, 'gold'], 4)[0]);
    } catch {
      theirs = Number.NaN;
    }
    expect(theirs).not.toBe(ohms);
  });

  test('red black brown brown brown is 2010 Ω here; the package loses an ohm when it makes a number of it', () => {
    // Three digits and a multiplier, IEC 60062: 201 · 10.
    const ours = readBands(['red', 'black', 'brown', 'brown', 'brown']);
    expect(ours.ok && ours.value[0]?.ohms).toBe(2010);
  });
});

describe('letter and digit code', () => {
  test.each([
    // "RKM code" table, en.wikipedia.org (IEC 60062).
    ['R47', 0.47, null],
    ['4R7', 4.7, null],
    ['470R', 470, null],
    ['4K7', 4700, null],
    ['47K', 47_000, null],
    ['47K3', 47_300, null],
    ['470K', 470_000, null],
    ['4M7', 4.7e6, null],
    ['8K2', 8200, null],
    ['15M0', 15e6, null],
    // Tolerance letters of EN 60062:2005.
    ['2K2J', 2200, 0.05],
    ['4K7K', 4700, 0.1],
    ['10KF', 10_000, 0.01],
    ['47K3G', 47_300, 0.02],
    ['0R47', 0.47, null],
    ['4k7', 4700, null],
    ['0R', 0, null],
  ])('%s is %d Ω', (text, ohms, tolerance) => {
    expect(parseResistorCode(text)).toMatchObject({ ok: true, value: { ohms, tolerance } });
  });

  // Fixed-length codes of IEC 60062: two figures and the noughts, three figures and the noughts (from memory); values by hand.
  test.each([
    ['103', 10_000, 103],
    ['1002', 10_000, 1002],
    ['470', 47, 470],
    ['471', 470, 471],
    ['222', 2200, 222],
    ['2201', 2200, 2201],
    ['4701', 4700, 4701],
    ['100', 10, 100],
    ['1000', 100, 1000],
    ['106', 10e6, 106],
  ])('%s in print is %d Ω, and %d Ω in speech', (text, ohms, spokenOhms) => {
    expect(parseResistorCode(text)).toEqual({
      ok: true,
      value: { ohms, tolerance: null, otherwise: { ohms: spokenOhms, as: 'figure' } },
    });
  });

  test('a letter that multiplies does so behind digits, and what else the print may be is said', () => {
    expect(parseResistorCode('470K')).toMatchObject({
      value: { ohms: 470_000, otherwise: { ohms: 47, as: 'print' } },
    });
    expect(parseResistorCode('103K')).toMatchObject({
      value: { ohms: 103_000, otherwise: { ohms: 10_000, as: 'print' } },
    });
    expect(parseResistorCode('4K7')).toMatchObject({ value: { ohms: 4700, otherwise: null } });
  });

  test('a letter of tolerance behind the digits is only ever printed; 000 is a link; nought leads no value', () => {
    expect(parseResistorCode('103J')).toEqual({
      ok: true,
      value: { ohms: 10_000, tolerance: 0.05, otherwise: null },
    });
    expect(parseResistorCode('1002F')).toMatchObject({ value: { ohms: 10_000, tolerance: 0.01 } });
    expect(parseResistorCode('000')).toMatchObject({ value: { ohms: 0, otherwise: null } });
    expect(parseResistorCode('047')).toMatchObject({ ok: false });
  });

  test('every E24 value of 10 Ω and more, and every E96 value of 100 Ω and more, is read as it is printed in digits', () => {
    for (const ohms of [...preferredValues('E24', 10, 9.1e6), ...preferredValues('E96', 100, 9.76e6)])
      expect(parseResistorCode(digitsOf(ohms)!), String(ohms)).toMatchObject({ value: { ohms } });
    expect(digitsOf(4.7)).toBe(null);
    expect(digitsOf(1234)).toBe(null);
  });

  test.each(['', 'K', '4K7Z', 'hello', '4.7', '4m7', '-4K7'])('"%s" is refused', (text) => {
    expect(parseResistorCode(text)).toMatchObject({ ok: false });
  });

  test('all 168 E24 values from 1 Ω to 9.1 MΩ as electro-grammar reads them, a digit before the letter', () => {
    let compared = 0;
    for (const ohms of preferredValues('E24', 1, 9.1e6)) {
      const [unit, letter] = ohms >= 1e6 ? [1e6, 'M'] : ohms >= 1e3 ? [1e3, 'k'] : [1, 'R'];
      const [whole, parts = ''] = String(Number((ohms / unit).toPrecision(3))).split('.');
      const code = `${whole}${letter}${parts}`;
      expect(parseResistorCode(code)).toMatchObject({ ok: true, value: { ohms } });
      expect(electroGrammar.parse(code).resistance).toBeCloseTo(ohms, 6);
      compared += 1;
    }
    expect(compared).toBe(168);
  });

  // IEC 60062: the letter stands where the point would, so R47 is 0.47 Ω; and J after a value is ±5 %.
  test('R47, R10 and 2K2J are read here by IEC 60062, and wrong there', () => {
    expect(parseResistorCode('R47')).toMatchObject({ value: { ohms: 0.47 } });
    expect(electroGrammar.parse('R47').resistance).toBe(47);
    expect(parseResistorCode('R10')).toMatchObject({ value: { ohms: 0.1 } });
    expect(electroGrammar.parse('R10').resistance).toBe(10);
    expect(parseResistorCode('2K2J')).toMatchObject({ value: { ohms: 2200, tolerance: 0.05 } });
    expect(electroGrammar.parse('2K2J').resistance).toBe(undefined);
  });
});

describe('E series', () => {
  test('E3 to E24 are the lists of IEC 60063', () => {
    // As printed in KiCad's pcb_calculator help.
    expect(DECADES.E3).toEqual([100, 220, 470]);
    expect(DECADES.E6).toEqual([100, 150, 220, 330, 470, 680]);
    expect(DECADES.E12).toEqual([100, 120, 150, 180, 220, 270, 330, 390, 470, 560, 680, 820]);
    expect(DECADES.E24).toEqual([
      100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300, 330, 360, 390, 430, 470, 510, 560, 620, 680,
      750, 820, 910,
    ]);
  });

  test('E96 is the printed list, but for its two misprints', () => {
    // slidepub.com, which has 2.77 where the rule gives 2.67, and E24 7.2 where the list has 7.5.
    const printed =
      '100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 277 274 280 287 294 301 309 316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549 562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976';
    const differing = printed
      .split(' ')
      .map(Number)
      .filter((value, at) => value !== DECADES.E96[at]);
    expect(differing).toEqual([277]);
    expect(DECADES.E96).toContain(267);
    expect(DECADES.E24).not.toContain(720);
    expect(DECADES.E24).toContain(750);
  });

  test('E48 is every second of E96', () => {
    expect(DECADES.E48).toHaveLength(48);
    expect(DECADES.E48.slice(0, 6)).toEqual([100, 105, 110, 115, 121, 127]);
    expect(DECADES.E48.at(-1)).toBe(953);
  });

  test('4.7 k, 3.3 k, 8.2 k, 5.6 k and 2.2 k are no E96 values; 5.62 k and 2.21 k are', () => {
    // E24 does not follow the geometric rule at 27 30 33 36 39 43 47 82 (IEC 60063).
    for (const ohms of [4700, 3300, 8200, 5600, 2200]) expect(isPreferred(ohms, 'E96')).toBe(false);
    for (const ohms of [5620, 2210]) expect(isPreferred(ohms, 'E96')).toBe(true);
    const strays = DECADES.E24.filter((value, at) => Math.round(10 ** (at / 24 + 1)) * 10 !== value);
    expect(strays).toEqual([270, 300, 330, 360, 390, 430, 470, 820]);
  });

  test('the coarsest series of a value, and the neighbours of one that is in none', () => {
    expect([4700, 1500, 1200, 2400, 5760, 0.47, 64_000].map(seriesOf)).toEqual([
      'E3',
      'E6',
      'E12',
      'E24',
      'E96',
      'E3',
      null,
    ]);
    expect(preferredNeighbours(64_000, 'E24')).toEqual({ below: 62_000, above: 68_000 });
    expect(preferredNeighbours(9700, 'E24')).toEqual({ below: 9100, above: 10_000 });
    expect(preferredNeighbours(2200, 'E24')).toEqual({ below: 2200, above: 2200 });
  });
});
