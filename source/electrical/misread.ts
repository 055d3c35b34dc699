import { contains, type Interval } from './interval.ts';
import type { Expression } from './loop.ts';
import { formatQuantity } from './quantity-words.ts';
import type { LoopReading, SuspectedLoop } from './suspected-loop.ts';

/**
 * How a figure is noted other than it was shown: a prefix left out (2.05 for 2.05 kΩ) or added, the point one place off.
 * `shown` is what the meter showed for every ohm that was noted. How often beside a fault of the wiring: common
 * practice, no source.
 */
const SLIPS = [
  { shown: 1000, weight: 0.4 },
  { shown: 1 / 1000, weight: 0.4 },
  { shown: 10, weight: 0.05 },
  { shown: 1 / 10, weight: 0.05 },
] as const;

/** What the last digit of a site meter stands for at best: less it never showed. Common practice, no source. */
const LAST_DIGIT_OHMS = 0.1;

/** A figure that was noted otherwise than shown: the loop itself is as it should be. */
type Misread = { readonly suspect: SuspectedLoop; readonly readings: readonly LoopReading[] };

/**
 * Every slip that makes all readings fit the loop as it should be; a reading that fits already was noted as shown.
 *
 * @param windows what a meter shows of the loop as it should be, in each reading
 * @returns with the readings as the meter showed them
 */
export function misreadings(
  readings: readonly LoopReading[],
  expected: Expression,
  windows: readonly Interval[],
): Misread[] {
  return SLIPS.flatMap(({ shown, weight }) => {
    const meant = readings.map((reading, at) =>
      contains(windows[at]!, reading.ohms) || reading.ohms === Number.POSITIVE_INFINITY
        ? reading
        : { ...reading, ohms: reading.ohms * shown },
    );
    const slip = meant.findIndex(({ ohms }, at) => ohms !== readings[at]!.ohms);
    const isMeant = ({ ohms }: LoopReading, at: number) =>
      ohms >= LAST_DIGIT_OHMS && contains(windows[at]!, ohms);
    if (slip < 0 || !meant.every(isMeant)) return [];
    const suspect = {
      cause: 'misread-figure',
      says: `It was noted as ${words(readings[slip]!)}, and the meter showed ${words(meant[slip]!)}.`,
      try: 'Look at the prefix and the point on the meter, and type the figure with its unit.',
      expression: expected,
      weight,
    };
    return [{ suspect, readings: meant }];
  });
}

const words = ({ ohms }: LoopReading) => formatQuantity(ohms, 'ohms');
