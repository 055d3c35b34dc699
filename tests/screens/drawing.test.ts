import { describe, expect, test } from 'vitest';
import type { Expression } from '../../source/electrical/loop.ts';
import { fallOfReading } from '../../source/procedure/fall.ts';
import { bigText } from '../../source/screens/draw/big.ts';
import { lookOf } from '../../source/screens/draw/fall-look.ts';
import type { Room } from '../../source/screens/draw/frame.ts';
import { GLYPHS } from '../../source/screens/draw/glyphs.ts';
import { plain, widthOf } from '../../source/screens/draw/line.ts';
import { loopLine } from '../../source/screens/draw/loop-line.ts';
import { PALETTES } from '../../source/screens/draw/palette.ts';
import { drawScale, type ScaleWindows, windowWords } from '../../source/screens/draw/scale.ts';
import { drawStrip } from '../../source/screens/draw/strip.ts';
import { seeded } from './seeded.ts';

const room = (columns: number): Room => ({
  columns,
  rows: 24,
  glyphs: GLYPHS.unicode,
  palette: PALETTES.dark,
  linear: false,
  units: 'metric',
});
const OHMS: ScaleWindows = {
  quantity: 'ohms',
  min: 2086,
  max: 2335,
  usable: { min: 0, max: 4000 },
  open: 'no',
};
const fallOf = (windows: ScaleWindows, value: number) =>
  lookOf(fallOfReading({ ...windows, of: 'ohms', danger: false }, value));
const rowsOf = (windows: ScaleWindows, value: number, width = 70) =>
  drawScale(windows, { value, look: fallOf(windows, value) }, width, GLYPHS.unicode).map(plain);

describe('the scale of a reading', () => {
  test('marks the entry under the window exactly where it falls, whatever the windows are', () => {
    const random = seeded(5);
    for (let turn = 0; turn < 400; turn++) {
      const min = random() * 10 ** (random() * 6);
      const max = min * (1 + random());
      const windows: ScaleWindows = {
        quantity: 'ohms',
        min,
        max,
        usable: { min: 0, max: max * (1 + random() * 50) },
        open: 'no',
      };
      const value = min + (max - min) * random();
      const [mark = '', axis = ''] = rowsOf(windows, value);
      const at = [...mark].indexOf('▼');
      expect(at).toBeGreaterThan(-1);
      expect([...axis][at]).toBe('█');
      expect(mark).toContain('as expected');
      for (const row of [mark, axis]) expect(widthOf(row)).toBeLessThanOrEqual(70);
    }
  });

  test('says in words where an entry falls, and never by colour alone', () => {
    expect(fallOf(OHMS, 2200)).toMatchObject({ says: 'as expected', sign: 'done' });
    expect(fallOf(OHMS, 3000)).toMatchObject({ says: 'not as expected, usable', sign: 'other' });
    expect(fallOf(OHMS, 9000)).toMatchObject({ says: 'does not pass', sign: 'failed' });
    expect(fallOf(OHMS, Number.POSITIVE_INFINITY)).toMatchObject({ sign: 'failed' });
    const mayBeOpen: ScaleWindows = { ...OHMS, usable: { min: 0, max: null }, open: 'may' };
    expect(fallOf(mayBeOpen, Number.POSITIVE_INFINITY)).toMatchObject({ sign: 'done' });
    const nothing: ScaleWindows = { ...OHMS, min: null, max: null, usable: null };
    // No tick where nobody has said what is right.
    expect(fallOf(nothing, 2200)).toMatchObject({ says: 'recorded as it is', sign: 'dot' });
  });

  test('an open circuit has a place of its own at the right', () => {
    const [mark = '', axis = ''] = rowsOf(
      { quantity: 'ohms', min: null, max: null, usable: { min: 1e6, max: null }, open: 'must' },
      Number.POSITIVE_INFINITY,
    );
    expect(axis).toContain('█OL█');
    expect([...mark].indexOf('▼')).toBeGreaterThanOrEqual([...axis].indexOf('┤'));
  });

  test('a window with one end only is a window', () => {
    const atLeast: ScaleWindows = {
      quantity: 'ohms',
      min: 5000,
      max: null,
      usable: { min: 5000, max: null },
      open: 'may',
    };
    expect(windowWords(atLeast)).toBe('expected at least 5 kΩ, or OL');
    expect(fallOf(atLeast, 10_000).sign).toBe('done');
    expect(fallOf(atLeast, 4000).sign).toBe('failed');
  });
});

describe('the terminal strip', () => {
  const screws = Array.from({ length: 24 }, (_, index) => ({
    name: String(index + 1),
    marked: index === 18,
    wires: [
      { colour: 'white', id: `c${index + 1}/1`, marked: index === 18, note: index === 18 ? 'lift' : '' },
    ],
  }));

  test('shows the marked screw at every width, colours named, and stays within it', () => {
    for (const columns of [60, 80, 120, 200]) {
      const rows = drawStrip('old panel', screws, room(columns)).map(plain);
      expect(rows[0]).toContain('◉ 19');
      expect(rows.join('\n')).toContain('white');
      expect(rows.join('\n')).toContain('lift');
      for (const row of rows) expect(widthOf(row)).toBeLessThanOrEqual(columns);
    }
  });
});

describe('the loop that is read', () => {
  const loop: Expression = {
    kind: 'series',
    of: [
      { kind: 'cable', id: 'c1', ohms: { min: 1, nominal: 2, max: 3 } },
      {
        kind: 'contact',
        detector: 'shutter',
        sense: 'normally-closed',
        closed: { min: 0, nominal: 0.1, max: 2 },
        unpowered: null,
      },
      { kind: 'resistor', ohms: 2200, tolerance: 0.05 },
    ],
  };

  test('names each contact and how it stands', () => {
    expect(loopLine(['old:8', 'old:9'], loop, {}, GLYPHS.ascii)).toBe(
      'screw 8 -- c1 -- [shutter at rest] -- (2.2 kΩ) -- screw 9',
    );
    expect(loopLine(['old:8', 'old:9'], loop, { shutter: 'active' }, GLYPHS.ascii)).toContain(
      '[shutter WORKED]',
    );
  });
});

describe('the far view', () => {
  test('has letters of five rows or more, as large as the room allows', () => {
    expect(bigText('WHITE', 60, 5, GLYPHS.unicode)).toHaveLength(5);
    expect(bigText('8', 200, 15, GLYPHS.unicode)).toHaveLength(15);
    expect(bigText('2.2KΩ', 60, 5, GLYPHS.unicode)!.every((row) => widthOf(row) <= 60)).toBe(true);
    expect(bigText('a text that is far too long for it', 60, 5, GLYPHS.unicode)).toBeNull();
  });

  test('has a shape of its own for every sign of terminals, colours and figures', () => {
    const signs = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,-/+:'];
    const shapes = signs.map((sign) => bigText(sign, 60, 5, GLYPHS.ascii)!.join('\n'));
    expect(new Set(shapes).size).toBe(signs.length);
  });
});
