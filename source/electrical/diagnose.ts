import { type Bounds, contains, type Interval } from './interval.ts';
import {
  type Accuracy,
  type ContactStates,
  type Expression,
  evaluateLoop,
  METER,
  readingWindow,
} from './loop.ts';
import { misreadings } from './misread.ts';
import { separatingReading } from './separate.ts';
import type { LoopReading, SuspectedLoop } from './suspected-loop.ts';

export type { LoopReading, SuspectedLoop } from './suspected-loop.ts';

/** A cause that explains the readings. Causes of one rank cannot be told apart by them. */
export type Diagnosis = {
  readonly cause: string;
  readonly says: string;
  readonly try: string;
  /** From 1; a rank holds at most three. */
  readonly rank: number;
  /** What a meter would show of it in the first reading. */
  readonly window: Interval;
  /** The next reading that would tell it from others of its rank; `null` where it stands alone. */
  readonly next: string | null;
};

/** A rank holds no more: nobody follows a longer list in front of an open enclosure. */
export const RANK_SIZE = 3;

/**
 * What can be behind a reading: every suspect is computed as the loop it would be, and those that would
 * give the reading are ranked, the one that gives it in the narrowest window first. A slip of prefix or point in the
 * figure itself is weighed among them.
 *
 * @param readingOhms Infinity for an open circuit
 * @returns one entry a cause; empty where the reading is as expected, or where no suspect gives it
 * @example diagnose(4400, {expression: {kind: 'resistor', ohms: 2200, tolerance: 0.05}, states: {}}, [{cause: 'resistors-in-series', says: 'Two.', try: 'Look.', expression: {kind: 'resistor', ohms: 4400, tolerance: 0.05}}]).map((one) => one.cause) // => ['resistors-in-series']
 */
export function diagnose(
  readingOhms: number,
  expected: { readonly expression: Expression; readonly states: ContactStates },
  suspects: readonly SuspectedLoop[],
  meter: Accuracy = METER.ohms,
): Diagnosis[] {
  const reading = { ohms: readingOhms, states: expected.states };
  return diagnoseReadings([reading], expected.expression, suspects, meter);
}

/**
 * As {@link diagnose}, from several readings of one loop: a suspect must explain them all.
 *
 * @example diagnoseReadings([{ohms: 2, states: {}}], {kind: 'resistor', ohms: 2200, tolerance: 0.05}, [{cause: 'cable-shorted', says: 'Shorted.', try: 'Look.', expression: {kind: 'series', of: []}}], {fraction: 0.01, floor: 3}).map((one) => one.rank) // => [1]
 */
export function diagnoseReadings(
  readings: readonly LoopReading[],
  expected: Expression,
  suspects: readonly SuspectedLoop[],
  meter: Accuracy = METER.ohms,
): Diagnosis[] {
  const windowOf = (expression: Expression, states: ContactStates) =>
    readingWindow(evaluateLoop(expression, states), meter);
  const asExpected = readings.map(({ states }) => windowOf(expected, states));
  if (readings.every(({ ohms }, at) => contains(asExpected[at]!, ohms))) return [];
  const fitting = new Map<string, Fitting>();
  const weigh = (suspect: SuspectedLoop, read: readonly LoopReading[]) => {
    const windows = read.map(({ states }) => windowOf(suspect.expression, { ...states, ...suspect.states }));
    if (!read.every(({ ohms }, at) => contains(windows[at]!, ohms))) return;
    const likelihood = read.reduce(
      (product, { ohms }, at) => product * density(windows[at]!, ohms),
      suspect.weight ?? 1,
    );
    if (likelihood <= (fitting.get(suspect.cause)?.likelihood ?? 0)) return;
    fitting.set(suspect.cause, { suspect, window: windows[0]!, likelihood });
  };
  for (const suspect of suspects) weigh(suspect, readings);
  for (const slip of misreadings(readings, expected, asExpected)) weigh(slip.suspect, slip.readings);
  const ordered = [...fitting.values()].sort((a, b) => b.likelihood - a.likelihood);
  return ordered.map(({ suspect, window }, at) => {
    const rank = Math.floor(at / RANK_SIZE) + 1;
    const tied = ordered.slice((rank - 1) * RANK_SIZE, rank * RANK_SIZE);
    const next = separatingReading(
      tied.map((one) => one.suspect),
      readings.map(({ states }) => states),
      windowOf,
    );
    return { cause: suspect.cause, says: suspect.says, try: suspect.try, rank, window, next };
  });
}

type Fitting = { readonly suspect: SuspectedLoop; readonly window: Interval; readonly likelihood: number };

/** How much of a window one reading is, on a scale of ratios: a narrow window that holds it says more. */
function density(window: Bounds, readingOhms: number): number {
  if (readingOhms === Number.POSITIVE_INFINITY) return window.min === readingOhms ? 1 : 0.5;
  const scale = (ohms: number) => Math.log(Math.min(ohms, 1e8) + 1);
  return 1 / (scale(window.max) - scale(window.min) + 0.02);
}
