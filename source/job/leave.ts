import type { JudgedField } from '../procedure/judge.ts';
import type { Proof } from '../procedure/step.ts';

/**
 * What was left unsaid or unsafe for the night, in sentences. Whoever must leave may leave; what is not said, or
 * not well, stays a warning until somebody is back.
 *
 * @param asked what leaving asks
 * @param verdicts by field, of what was said
 */
export function leavingWarnings(
  asked: readonly Proof[],
  verdicts: Readonly<Record<string, JudgedField['verdict']>>,
): string[] {
  return asked.flatMap(({ field, label }) => {
    const verdict = verdicts[field];
    if (verdict === undefined) return [`Left for the night, and not said: ${label}.`];
    return verdict === 'failed' ? [`Left for the night, and to be mended first: ${label}.`] : [];
  });
}
