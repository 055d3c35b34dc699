import { isOver, isUnder } from './limit.ts';

/**
 * A figure that is only known to lie within bounds. `Infinity` in ohms is an open circuit: a break, not a
 * big number. Always `min <= nominal <= max`.
 */
export type Interval = { readonly min: number; readonly nominal: number; readonly max: number };

/** What a pair of bounds alone needs: a window without a nominal figure. */
export type Bounds = { readonly min: number; readonly max: number };

/**
 * A figure known without doubt.
 *
 * @example exactly(5) // => {min: 5, nominal: 5, max: 5}
 */
export function exactly(value: number): Interval {
  return { min: value, nominal: value, max: value };
}

/**
 * A figure with an equal fraction of doubt to both sides.
 *
 * @param fraction 0.05 for ±5 %
 * @example within(100, 0.05) // => {min: 95, nominal: 100, max: 105}
 */
export function within(nominal: number, fraction: number): Interval {
  return { min: nominal * (1 - fraction), nominal, max: nominal * (1 + fraction) };
}

/**
 * Sum of figures: resistances in series. One open part opens the whole.
 *
 * @example addIntervals(exactly(2200), {min: 0, nominal: 0.1, max: 2}) // => {min: 2200, nominal: 2200.1, max: 2202}
 */
export function addIntervals(...parts: readonly Interval[]): Interval {
  let min = 0;
  let nominal = 0;
  let max = 0;
  for (const part of parts) {
    min += part.min;
    nominal += part.nominal;
    max += part.max;
  }
  return { min, nominal, max };
}

/**
 * Resistances in parallel. The result rises with every part, so its bounds come from the bounds of the
 * parts. Without parts, or with nothing but open ones, it is open.
 *
 * @example parallelIntervals(exactly(1000), exactly(1000)) // => {min: 500, nominal: 500, max: 500}
 */
export function parallelIntervals(...parts: readonly Interval[]): Interval {
  let min = 0;
  let nominal = 0;
  let max = 0;
  for (const part of parts) {
    min += 1 / part.min;
    nominal += 1 / part.nominal;
    max += 1 / part.max;
  }
  return { min: 1 / min, nominal: 1 / nominal, max: 1 / max };
}

/**
 * What is left of a figure when a part of it is taken away.
 *
 * @example subtractIntervals({min: 99, nominal: 100, max: 101}, {min: 0, nominal: 10, max: 20}) // => {min: 79, nominal: 90, max: 101}
 */
export function subtractIntervals(whole: Interval, part: Interval): Interval {
  return { min: whole.min - part.max, nominal: whole.nominal - part.nominal, max: whole.max - part.min };
}

/**
 * Both figures may be true: the smallest interval that holds the two, with the nominal of the first.
 *
 * @example eitherInterval(exactly(0.1), exactly(Infinity)) // => {min: 0.1, nominal: 0.1, max: Infinity}
 */
export function eitherInterval(likely: Interval, other: Interval): Interval {
  return {
    min: Math.min(likely.min, other.min),
    nominal: likely.nominal,
    max: Math.max(likely.max, other.max),
  };
}

/**
 * Whether a figure lies within the bounds, the bounds included.
 *
 * @example contains({min: 0, max: 1600}, 1600) // => true
 */
export function contains(bounds: Bounds, value: number): boolean {
  return !isUnder(value, bounds.min) && !isOver(value, bounds.max);
}

/**
 * Whether two intervals have a figure in common: one reading could then be either.
 *
 * @example overlaps(within(2000, 0.05), within(2200, 0.05)) // => true
 */
export function overlaps(a: Bounds, b: Bounds): boolean {
  return a.min <= b.max && b.min <= a.max;
}
