import { formatQuantity, type Units } from './quantity-words.ts';
import type { QuantityKind } from './units.ts';

type Options = { readonly units?: Units };

/**
 * Bounds as they are printed, with one unit where both have the same. What is printed is never narrower than what is
 * judged: the lower bound is rounded down and the upper one up. `null` is no bound; without either nothing is said.
 *
 * @example spanWords(2071, 2343, 'ohms') // => '2.07 to 2.35 kΩ'
 * @example spanWords(0.8, 1200, 'ohms') // => '0.8 Ω to 1.2 kΩ'
 * @example spanWords(5000, null, 'ohms') // => 'at least 5 kΩ'
 */
export function spanWords(
  min: number | null,
  max: number | null,
  kind: QuantityKind,
  options: Options = {},
): string {
  const low = min === null ? null : lowWords(min, kind, options);
  const high = max === null ? null : highWords(max, kind, options);
  if (low === null) return high === null ? '' : `at most ${high}`;
  if (high === null) return `at least ${low}`;
  const [figure, unit] = high.split(' ');
  return low.endsWith(` ${unit}`) ? `${low.split(' ')[0]} to ${figure} ${unit}` : `${low} to ${high}`;
}

/** A lower bound, as it is printed. */
export function lowWords(min: number, kind: QuantityKind, options: Options = {}): string {
  return formatQuantity(min, kind, { ...options, toward: 'down' });
}

/** An upper bound, as it is printed. */
export function highWords(max: number, kind: QuantityKind, options: Options = {}): string {
  return formatQuantity(max, kind, { ...options, toward: 'up' });
}
