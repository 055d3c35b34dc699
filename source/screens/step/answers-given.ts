import type { Step } from '../../procedure/step.ts';
import type { OpenJob } from '../app/state.ts';
import { fieldsOf } from '../entry/field.ts';
import { type Entry, newEntry } from '../entry/state.ts';
import { isFitting, verdictAt } from '../entry/verdict.ts';
import { askedProofs } from './asked-proofs.ts';
import { placeNames } from './state.ts';

/** What was answered at the last try of a step. */
export function answersGiven(job: OpenJob, step: Step): Entry {
  return newEntry(fieldsOf(askedProofs(job, step), placeNames(job)), job.values[step.id]);
}

/** The fields that were answered, and those of them that are not as they should be. */
export function judgedOf(entry: Entry): {
  readonly given: readonly number[];
  readonly odd: readonly number[];
} {
  const verdicts = entry.fields.map((_, index) => verdictAt(entry, index));
  const given = verdicts.flatMap(({ sign }, index) => (sign === 'open' ? [] : [index]));
  return { given, odd: given.filter((index) => !isFitting(verdicts[index]!)) };
}

/** Whether a step measures anything, or only asks. */
export function isMeasured(step: Step): boolean {
  return step.proof.some(({ kind }) => kind === 'reading' || kind === 'sweep');
}
