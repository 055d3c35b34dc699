import { describe, expect, test } from 'vitest';
import { widthOf } from '../../source/screens/draw/line.ts';
import { CASES, caseAt } from './cases.ts';

const SIZES = [
  { columns: 60, rows: 20 },
  { columns: 80, rows: 24 },
  { columns: 120, rows: 40 },
] as const;

const PLAIN = { palette: 'none', glyphs: 'ascii' } as const;

describe.each(Object.keys(CASES))('the screen %s', (name) => {
  test('stands as it was looked at, at three sizes, with signs and in ASCII', async () => {
    const frames = SIZES.flatMap((size) => [
      { title: `${size.columns} x ${size.rows}`, text: caseAt(name, size).picture() },
      {
        title: `${size.columns} x ${size.rows}, no colour, ASCII`,
        text: caseAt(name, size, PLAIN).picture(),
      },
    ]);
    const file = frames.map(({ title, text }) => `### ${title}\n${text}\n`).join('\n');
    await expect(file).toMatchFileSnapshot(`frames/${name}.txt`);
  });

  test('leaves the last row free and keeps within the width', () => {
    for (const size of [...SIZES, { columns: 200, rows: 60 }, { columns: 61, rows: 21 }]) {
      const rows = caseAt(name, size).picture().split('\n');
      expect(rows.length).toBeLessThanOrEqual(size.rows - 1);
      for (const row of rows) expect(widthOf(row)).toBeLessThanOrEqual(size.columns);
    }
  });

  test('cuts nothing off but the head, rows of a list that stand in full below, and questions whose turn it is not', () => {
    for (const size of SIZES) {
      const [, ...rows] = caseAt(name, size).picture().split('\n');
      const cut = rows.filter(
        (row) => row.includes('…') && !/^(› | {2})[✓○·›✗~?▲] |^[✓✗~?○] |^[› ] +\d+ {2}\d\d-\d\d /.test(row),
      );
      expect(cut).toEqual([]);
    }
  });

  test('in ASCII holds nothing else', () => {
    expect(caseAt(name, SIZES[0], PLAIN).picture()).toMatch(/^[\x20-\x7e\n]*$/);
  });
});
