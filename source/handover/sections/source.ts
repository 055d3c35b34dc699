import type { AsLeft } from '../../job/as-left-record.ts';
import type { Private } from '../../job/private.ts';
import type { Verdict } from '../../journal/verify.ts';
import type { Plan } from '../../plan/plan.ts';
import { timeWords } from '../answer-words.ts';
import type { Collected } from '../collect.ts';

/** Everything the documents are made of. */
export type HandoverSource = {
  readonly collected: Collected;
  readonly plan: Plan;
  /** How the wiring stands, as left once the job is closed; null in a job of before acts were recorded. */
  readonly left: AsLeft | null;
  readonly known: Private;
  readonly verdict: Verdict;
  /** Names, free words and place are left out. */
  readonly redacted: boolean;
};

/** Whether the work is finished, so that what is told is how it was left. */
export function isClosed({ collected }: HandoverSource): boolean {
  return collected.replay.state.job === 'closed';
}

/** The name of a person, or the id where the name was erased or is left out. */
export function nameOf({ known, redacted }: HandoverSource, person: string | null): string {
  if (person === null) return '';
  return redacted ? person : (known.persons[person] ?? person);
}

/** A record's time as the document writes it, in the job's own time zone. */
export function whenOf({ collected }: HandoverSource, at: string): string {
  return timeWords(at, collected.timeZone);
}
