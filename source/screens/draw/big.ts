import type { Glyphs } from './glyphs.ts';

/**
 * Signs five rows high and up to four columns wide: a hexadecimal digit for each row, its bits the columns.
 */
const SIGNS: Readonly<Record<string, string>> = {
  A: '69f99',
  B: 'e9e9e',
  C: '78887',
  D: 'e999e',
  E: 'f8e8f',
  F: 'f8e88',
  G: '78b97',
  H: '99f99',
  I: 'e444e',
  J: '11196',
  K: '9aca9',
  L: '8888f',
  M: '9ff99',
  N: '9dfb9',
  O: '69996',
  P: 'e9e88',
  Q: '699b7',
  R: 'e9ea9',
  S: '7861e',
  T: 'e4444',
  U: '99996',
  V: '99966',
  W: '99ff9',
  X: '99699',
  Y: '99716',
  Z: 'f168f',
  0: 'f999f',
  1: '4c44e',
  2: 'e168f',
  3: 'e161e',
  4: '99f11',
  5: 'f8e1e',
  6: '68e96',
  7: 'f1244',
  8: '69696',
  9: '69716',
  '.': '00008',
  ',': '00048',
  '-': '00e00',
  '/': '12248',
  '+': '04e40',
  ':': '08080',
  '>': '84248',
  '<': '24842',
  '%': '91689',
  '(': '48884',
  ')': '84448',
  '?': 'e1604',
  '=': '0e0e0',
  "'": '88000',
  Ω: '6996f',
};

const ROWS = 5;

/** Columns of a text in large letters, at one column a dot. */
export function bigWidth(text: string): number {
  const shapes = [...text.toUpperCase()].map(shapeOf);
  return shapes.reduce((sum, shape) => sum + shape.width, 0) + Math.max(0, shapes.length - 1);
}

/**
 * A text in letters of five rows or more, as large as the room allows; null where it does not fit in one row
 * of letters.
 *
 * @param rows how high the letters may be
 */
export function bigText(
  text: string,
  columns: number,
  rows: number,
  glyphs: Glyphs,
): readonly string[] | null {
  const narrow = bigWidth(text);
  const high = Math.max(1, Math.min(3, Math.floor(rows / ROWS)));
  const wide = Math.min(high * 2, Math.floor(columns / narrow));
  if (wide < 1) return null;
  const shapes = [...text.toUpperCase()].map(shapeOf);
  return Array.from({ length: ROWS * high }, (_, row) =>
    shapes
      .map(({ bits, width }) =>
        Array.from({ length: width }, (_, column) =>
          (bits[Math.floor(row / high)]! & (8 >> column) ? glyphs.block : ' ').repeat(wide),
        ).join(''),
      )
      .join(' '.repeat(wide))
      .trimEnd(),
  );
}

function shapeOf(sign: string): { bits: readonly number[]; width: number } {
  if (sign === ' ') return { bits: [0, 0, 0, 0, 0], width: 2 };
  const bits = [...(SIGNS[sign] ?? SIGNS['?']!)].map((digit) => Number.parseInt(digit, 16));
  const used = bits.reduce((all, row) => all | row, 0);
  return { bits, width: used & 1 ? 4 : used & 2 ? 3 : used & 4 ? 2 : 1 };
}
