import type { Parsed } from './parsed.ts';

/**
 * Reads the digits of a figure: a point or a comma for decimals, a real minus sign, an exponent. One comma
 * before exactly three digits is refused, because half the world reads it as thousands.
 *
 * @returns the reason alone where it is refused: the caller knows what was written and what is accepted
 * @example readNumber('13,7') // => {ok: true, value: 13.7}
 * @example readNumber('2,200') // => {ok: false, says: 'could mean thousands or decimals'}
 */
export function readNumber(digits: string): Parsed<number> {
  const written = digits.trim().replace(/^[−–]/, '-');
  if (/^[+-]?\d{1,3},\d{3}$/.test(written)) {
    return { ok: false, says: 'could mean thousands or decimals' };
  }
  if (!/^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/.test(written)) return { ok: false, says: 'is no figure' };
  const value = Number(written.replace(',', '.'));
  return Number.isFinite(value) && Math.abs(value) < 1e15
    ? { ok: true, value }
    : { ok: false, says: 'is beyond anything that is measured here' };
}
