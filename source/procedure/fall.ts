import { isBeyondStop, isUsable, isWithin } from './decisive.ts';
import type { ReadingProof, SweepProof } from './step.ts';

export type Verdict = 'passed' | 'unexpected' | 'failed' | 'recorded';

/**
 * How an answer fell, and what that makes of it: the one table that the word beside an entry, the record, its causes
 * and the documents go by.
 */
export const VERDICT_OF = {
  /** As the plan computed it, and good to go on with. */
  expected: 'passed',
  /** As the plan computed it, where nothing is judged yet. */
  'expected-unjudged': 'recorded',
  /** What may stand; nothing narrower was computed. */
  suits: 'passed',
  /** Not as computed, and may stand. */
  usable: 'unexpected',
  /** Not as computed, where nothing is judged yet. */
  odd: 'recorded',
  /** Nothing was computed and nothing is judged. */
  noted: 'recorded',
  /** Not what may stand. */
  unusable: 'failed',
  /** As computed, and not what may stand: the plan reckoned with more than its input is sure of. */
  'expected-unusable': 'failed',
  /** A voltage with which nothing here works, or more than the range shows. */
  'beyond-stop': 'failed',
  /** The instrument on its known source: not what it showed before. */
  differs: 'failed',
  /** Ohms, although a voltage stood there. */
  live: 'recorded',
  /** A sweep: nothing was met at any point. */
  clear: 'passed',
  met: 'failed',
  /** Met, and gone at low input impedance. */
  induced: 'unexpected',
  'short-count': 'failed',
  chosen: 'passed',
  'chosen-against': 'failed',
  written: 'passed',
  miscounted: 'failed',
  seen: 'passed',
  'seen-otherwise': 'failed',
} as const satisfies Readonly<Record<string, Verdict>>;

export type FallCode = keyof typeof VERDICT_OF;

/** How an answer fell, with what it takes to tell it. */
export type Fall =
  | { readonly is: Exclude<FallCode, SweepCode | OtherCode> }
  /** `missing`: how many points were not touched. */
  | { readonly is: 'met'; readonly at: string | null; readonly missing: number }
  | { readonly is: 'beyond-stop'; readonly at: string | null }
  | { readonly is: 'short-count'; readonly points: number; readonly of: number }
  | { readonly is: 'chosen' | 'chosen-against'; readonly option: string; readonly label: string }
  | { readonly is: 'miscounted'; readonly counted: number; readonly survey: number }
  | { readonly is: 'seen' | 'seen-otherwise'; readonly shown: 'open' | 'closed' | 'nothing' };
type SweepCode = 'met' | 'beyond-stop' | 'short-count';
type OtherCode = 'chosen' | 'chosen-against' | 'miscounted' | 'seen' | 'seen-otherwise';

export type ReadingWindow = Pick<ReadingProof, 'of' | 'min' | 'max' | 'usable' | 'open' | 'danger'>;

/**
 * How a figure falls among the windows of its reading.
 *
 * @param value Infinity for an open circuit in ohms, and for more than the range shows in volts
 */
export function fallOfReading(proof: ReadingWindow, value: number): Fall {
  if (isBeyondStop(proof.of, value)) return { is: 'beyond-stop', at: null };
  const fits = isExpected(proof, value);
  const usable = isUsable(proof, value);
  if (usable === false) return { is: fits && isForeseen(proof) ? 'expected-unusable' : 'unusable' };
  if (usable) return { is: !fits ? 'usable' : isForeseen(proof) ? 'expected' : 'suits' };
  if (proof.danger) return { is: fits ? 'expected' : 'unusable' };
  if (!fits) return { is: 'odd' };
  return { is: isForeseen(proof) ? 'expected-unjudged' : 'noted' };
}

/** Whether a figure is inside what was computed; everything is where nothing was. */
export function isExpected(
  { min, max, open }: Pick<ReadingProof, 'min' | 'max' | 'open'>,
  value: number,
): boolean {
  if (!Number.isFinite(value)) return open !== 'no';
  if (open === 'must') return false;
  return isWithin(value, min, max);
}

/** Whether anything was computed that a figure could miss. */
function isForeseen({ min, max, open }: Pick<ReadingProof, 'min' | 'max' | 'open'>): boolean {
  return min !== null || max !== null || open === 'must';
}

/** How the greatest figure of a sweep falls. `at` and `points` are null while they are still to be answered. */
export function fallOfSweep(
  proof: Pick<SweepProof, 'of' | 'min' | 'max' | 'points'>,
  value: number,
  { at, points }: { readonly at: string | null; readonly points: number | null },
): Fall {
  if (isBeyondStop(proof.of, value)) return { is: 'beyond-stop', at };
  const of = proof.points.length;
  if (!isWithin(value, proof.min, proof.max)) return { is: 'met', at, missing: of - (points ?? of) };
  return points !== null && points < of ? { is: 'short-count', points, of } : { is: 'clear' };
}
