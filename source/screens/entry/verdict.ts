import type { Fall } from '../../procedure/fall.ts';
import { type JudgedField, judgeSoFar } from '../../procedure/judge.ts';
import type { Proof } from '../../procedure/step.ts';
import { type FallLook, lookOf } from '../draw/fall-look.ts';
import type { ScaleWindows } from '../draw/scale.ts';
import { checkAnswer, textOf, typedFigure } from './answer.ts';
import { type Field, type ReadingField, valuesSoFar } from './field.ts';
import { type Entry, isAskedAt } from './state.ts';

/** How an answer stands, for a sign and a word beside it: what failed never looks like what passed. */
export type Verdict = {
  readonly sign: 'open' | 'done' | 'dot' | 'other' | 'failed' | 'doubt';
  readonly tone: 'quiet' | 'good' | 'caution' | 'bad' | 'focus';
  /** Said beside the answer; empty where the sign says enough. */
  readonly says: string;
};

const OPEN: Verdict = { sign: 'open', tone: 'quiet', says: '' };
const DONE: Verdict = { sign: 'done', tone: 'good', says: '' };
/** Of which nothing is expected: no tick, for nobody has said that it is right. */
const NOTED: Verdict = { sign: 'dot', tone: 'focus', says: '' };
const failed = (says: string): Verdict => ({ sign: 'failed', tone: 'bad', says });

/** Whether nothing speaks against an answer. */
export function isFitting({ sign }: Verdict): boolean {
  return sign === 'done' || sign === 'dot';
}

/** The windows of a reading, to be drawn; null where nothing is expected of it. */
export function windowsOf({ quantity, scale }: ReadingField): ScaleWindows | null {
  if (scale === null) return null;
  const { min, max } = scale;
  if (scale.kind === 'sweep') return { quantity, min, max, usable: null, open: 'no' };
  return { quantity, min, max, usable: scale.usable, open: scale.open };
}

/** How the answer at this place stands: what the record would make of it, given the answers beside it. */
export function verdictAt(entry: Entry, index: number): Verdict {
  const field = entry.fields[index]!;
  const answer = entry.answers[index]!;
  if (textOf(field, answer) === '') return OPEN;
  if (checkAnswer(field, answer) !== null) return { sign: 'doubt', tone: 'caution', says: 'not whole yet' };
  if (entry.kept.includes(field.id)) return { sign: 'doubt', tone: 'quiet', says: 'from the try before' };
  const fall = judgedAt(entry, index)?.fall;
  if (fall === undefined) return field.kind === 'reading' ? NOTED : DONE;
  switch (field.kind) {
    case 'choice':
      // The place of a sweep is no answer that could be wrong.
      return fall.is === 'chosen-against' || fall.is === 'seen-otherwise' ? failed('does not pass') : DONE;
    case 'count':
      return isShort(fall) ? failed(`of ${field.of}: too few`) : DONE;
    case 'text':
    case 'reading': {
      // A sweep that touched too few points says so at their count.
      const look = field.kind === 'reading' && fall.is === 'short-count' ? DONE : lookOf(fall);
      return look.sign === 'done' || look.sign === 'dot' ? { ...look, says: '' } : look;
    }
  }
}

/** How the figure at this place falls while it is typed, in the words that the record has for it; null where it is none. */
export function figureAt(entry: Entry, index: number): { value: number; look: FallLook } | null {
  const value = typedFigure(entry.fields[index]!, entry.answers[index]!);
  const judged = value === null ? undefined : judgedAt(entry, index);
  return value === null || judged === undefined ? null : { value, look: lookOf(judged.fall) };
}

function isShort(fall: Fall): boolean {
  return fall.is === 'short-count' || (fall.is === 'met' && fall.missing > 0);
}

/** What the record would make of the answer that this field is, or is a part of. */
function judgedAt(entry: Entry, index: number): JudgedField | undefined {
  const { fields, answers } = entry;
  const proofs = [...new Set(fields.flatMap((field) => proofOf(field) ?? []))];
  const typed = Object.fromEntries(fields.map((field, at) => [field.id, textOf(field, answers[at]!)]));
  const own = measuredBy(entry, index) ?? fields[index]!.id;
  return judgeSoFar(proofs, valuesSoFar(proofs, typed)).find(({ field }) => field === own);
}

function proofOf(field: Field): Proof | null {
  if (field.kind === 'reading') return field.scale;
  return field.kind === 'count' ? null : (field.proof ?? null);
}

/**
 * What of a try that failed is worth keeping: the answers that were right, each to be confirmed again. A sweep for
 * voltages is never kept, and a proof of dead keeps nothing that was measured.
 */
export function keptAnswers(entry: Entry, isProofOfDead: boolean): Readonly<Record<string, string>> {
  const asked = entry.fields.flatMap((_, index) => (isAskedAt(entry, index) ? [index] : []));
  const isBad = (index: number) => {
    const verdict = verdictAt(entry, index);
    return !isFitting(verdict) && verdict.sign !== 'doubt';
  };
  const bad = new Set(
    asked.filter(isBad).map((index) => measuredBy(entry, index) ?? entry.fields[index]!.id),
  );
  // Where no answer by itself was wrong, it is what was measured that did not fit together.
  const dropsMeasured = isProofOfDead || bad.size === 0;
  const swept = new Set(
    entry.fields.flatMap((field) =>
      field.kind === 'reading' && field.scale?.kind === 'sweep' ? [field.scale.field] : [],
    ),
  );
  const kept = asked.filter((index) => {
    const measured = measuredBy(entry, index);
    // That no voltage stands is never known from before.
    if (measured !== null && swept.has(measured)) return false;
    if (measured === null) return !bad.has(entry.fields[index]!.id);
    return !dropsMeasured && !bad.has(measured);
  });
  return Object.fromEntries(
    kept.map((index) => [entry.fields[index]!.id, textOf(entry.fields[index]!, entry.answers[index]!)]),
  );
}

/** The proof whose measured figure this field is a part of; null where it is no part of one. */
function measuredBy(entry: Entry, index: number): string | null {
  const field = entry.fields[index]!;
  if (field.kind === 'reading') return field.scale?.field ?? field.id;
  const sweep = entry.fields.find(
    (one) =>
      one.kind === 'reading' &&
      one.scale?.kind === 'sweep' &&
      [`${one.scale.field}.at`, `${one.scale.field}.points`].includes(field.id),
  );
  return sweep?.kind === 'reading' ? (sweep.scale?.field ?? null) : null;
}
