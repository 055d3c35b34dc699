import type { KeyName } from '../keys/key.ts';

/** The signs of the letter picker in rows, for hands that only have a numeric keypad. */
export const LETTER_COLUMNS = 10;

export const LETTERS: readonly string[] = [
  ...'abcdefghijklmnopqrstuvwxyz',
  ...'.,-/',
  'space',
  'back',
  'end',
];

/** Where the mark goes; null where the key moves nothing. */
export function moveLetter(at: number, key: KeyName): number | null {
  const last = LETTERS.length - 1;
  switch (key) {
    case 'left':
      return at === 0 ? last : at - 1;
    case 'right':
      return at === last ? 0 : at + 1;
    case 'up':
      return Math.max(0, at - LETTER_COLUMNS);
    case 'down':
      return Math.min(last, at + LETTER_COLUMNS);
    default:
      return null;
  }
}
