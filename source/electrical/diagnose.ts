import { type Bounds, contains, type Interval } from './interval.ts';
import {
  type Accuracy,
  type ContactStates,
  type Expression,
  evaluateLoop,
  METER,
  readingWindow,
} from './loop.ts';

/** Another thing that could stand between the meter leads. */
export type SuspectedLoop = {
  /** One of {@link CAUSES}. */
  readonly cause: string;
  readonly says: string;
  readonly try: string;
  readonly expression: Expression;
  /** States it insists on, over those of the reading. */
  readonly states?: ContactStates;
};

/** A cause that explains a reading. Causes of one rank cannot be told apart by it. */
export type Diagnosis = {
  readonly cause: string;
  readonly says: string;
  readonly try: string;
  /** From 1. */
  readonly rank: number;
  /** What a meter would show of it. */
  readonly window: Interval;
};

/** A rank holds no more: nobody follows a longer list in front of an open enclosure. */
const RANK_SIZE = 3;
/** How many times likelier a cause must be to stand in a rank of its own. */
const CLEARLY_LIKELIER = 50;

/**
 * What can be behind a reading: every suspect is computed as the loop it would be, and those that give the
 * reading are ranked, the one that gives it in the narrowest window first.
 *
 * @param readingOhms Infinity for an open circuit
 * @returns empty where the reading is as expected, or where no suspect gives it
 */
export function diagnose(
  readingOhms: number,
  expected: { readonly expression: Expression; readonly states: ContactStates },
  suspects: readonly SuspectedLoop[],
  meter: Accuracy = METER.ohms,
): Diagnosis[] {
  if (contains(readingWindow(evaluateLoop(expected.expression, expected.states), meter), readingOhms))
    return [];
  const fitting = new Map<string, { suspect: SuspectedLoop; window: Interval; likelihood: number }>();
  for (const suspect of suspects) {
    const states = { ...expected.states, ...suspect.states };
    const window = readingWindow(evaluateLoop(suspect.expression, states), meter);
    if (!contains(window, readingOhms)) continue;
    const likelihood = density(window, readingOhms);
    if (likelihood > (fitting.get(suspect.cause)?.likelihood ?? 0)) {
      fitting.set(suspect.cause, { suspect, window, likelihood });
    }
  }
  const ordered = [...fitting.values()].sort((a, b) => b.likelihood - a.likelihood);
  let rank = 0;
  let inRank = RANK_SIZE;
  let top = 0;
  return ordered.map(({ suspect, window, likelihood }) => {
    if (inRank === RANK_SIZE || likelihood * CLEARLY_LIKELIER < top) {
      rank += 1;
      inRank = 0;
      top = likelihood;
    }
    inRank += 1;
    return { cause: suspect.cause, says: suspect.says, try: suspect.try, rank, window };
  });
}

/** How much of a window one reading is, on a scale of ratios: a narrow window that holds it says more. */
function density(window: Bounds, readingOhms: number): number {
  if (readingOhms === Number.POSITIVE_INFINITY) return window.min === readingOhms ? 1 : 0.5;
  const scale = (ohms: number) => Math.log(Math.min(ohms, 1e8) + 1);
  return 1 / (scale(window.max) - scale(window.min) + 0.02);
}
