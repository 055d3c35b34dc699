import { isPreferred, preferredValues, type SeriesName } from './e-series.ts';
import type { Bounds, Interval } from './interval.ts';

/** What the resistors of this trade lie between. */
export const RESISTOR_RANGE: Bounds = { min: 100, max: 100_000 };

/**
 * Values that alarm loops are built with. 1 kΩ from a published four-state example
 * (protectiveresources.com); the others common practice, no source.
 */
export const TRADE_VALUES: readonly number[] = [1000, 2000, 2200, 3300, 3900, 4700, 5600, 6800, 8200, 10000];

/** E24 parts are 5 % and E96 parts 1 % (IEC 60063). */
const PARTS = [
  { series: 'E24', tolerance: 0.05 },
  { series: 'E96', tolerance: 0.01 },
] as const;

type Part = { readonly ohms: number; readonly use: number };
const made = new Map<SeriesName, readonly Part[]>();

// Made when they are first asked for: most that load this never do.
function partsOf(series: SeriesName): readonly Part[] {
  let parts = made.get(series);
  if (parts === undefined) {
    const values = preferredValues(series, RESISTOR_RANGE.min, RESISTOR_RANGE.max);
    parts = values.map((ohms) => ({ ohms, use: useInTrade(ohms) }));
    made.set(series, parts);
  }
  return parts;
}

/** A nominal value that a resistance may have, and how likely it is beside the others that it may have. */
export type LikelyValue = { readonly ohms: number; readonly weight: number };

/**
 * The nominal values whose parts may have a resistance that is known within bounds: E24 with 5 % parts,
 * and E96 with 1 % parts only where no E24 value fits. Where windows overlap all are given, the likelier by
 * use in the trade and by closeness to the nominal figure first.
 *
 * @example likelyValues({min: 2080, nominal: 2098, max: 2100}).map((value) => value.ohms) // => [2200, 2000]
 * @example likelyValues({min: 1395, nominal: 1398, max: 1400}).map((value) => value.ohms) // => [1400]
 */
export function likelyValues(resistance: Interval): readonly LikelyValue[] {
  for (const { tolerance, series } of PARTS) {
    const fitting = partsOf(series).filter(
      ({ ohms }) => ohms * (1 + tolerance) >= resistance.min && ohms * (1 - tolerance) <= resistance.max,
    );
    if (fitting.length > 0) {
      return fitting
        .map(({ ohms, use }) => ({ ohms, weight: use * closeness(ohms, resistance, tolerance) }))
        .sort((one, other) => other.weight - one.weight);
    }
  }
  return [];
}

function useInTrade(ohms: number): number {
  const coarse = isPreferred(ohms, 'E12') ? 1 : 0.5;
  return coarse * (TRADE_VALUES.includes(ohms) ? 1 : 0.3);
}

/** Parts crowd around their nominal value: half the tolerance taken as one standard deviation. */
function closeness(ohms: number, { min, nominal, max }: Interval, tolerance: number): number {
  const deviation = (ohms * tolerance) / 2 + (max - min) / 4;
  return Math.exp(-(((ohms - nominal) / deviation) ** 2) / 2);
}
