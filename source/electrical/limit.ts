/**
 * Figures here are sums and products of decimal fractions, which a computer holds inexactly: two that differ by
 * less than a part in 10⁹ are the same figure. No survey and no meter knows a thing so well.
 */
const SAME_FRACTION = 1e-9;

/**
 * Whether a figure goes beyond a limit. What is equal to the limit fits. The one comparison with a limit there is.
 *
 * @example isOver(0.1 + 0.2, 0.3) // => false
 * @example isOver(0.301, 0.3) // => true
 */
export function isOver(value: number, limit: number): boolean {
  if (!(value > limit)) return false;
  const size = Math.max(Math.abs(value), Math.abs(limit));
  return size === Number.POSITIVE_INFINITY || value - limit > SAME_FRACTION * size;
}

/**
 * Whether a figure falls short of what is needed. What is equal to it suffices.
 *
 * @example isUnder(8.999, 9) // => true
 */
export function isUnder(value: number, least: number): boolean {
  return isOver(least, value);
}
