import { isLabel } from '../procedure/judge-text.ts';
import type { JobState } from '../procedure/state.ts';
import type { Procedure } from '../procedure/step.ts';
import type { Replay } from './replay.ts';

/** The wire that bears each label, by the cards of the labels that are done. */
export function labelsGiven(
  procedure: Procedure,
  state: JobState,
  results: Replay['results'],
): ReadonlyMap<string, string> {
  const cards = procedure.steps.filter(
    ({ id, proof }) => state.context.status[id] === 'done' && proof.some(isLabel),
  );
  return new Map(
    cards.flatMap(({ id, proof }) => {
      const values = results.get(id)?.findLast((one) => one.outcome === 'passed')?.values ?? {};
      return proof.filter(isLabel).flatMap(({ field }) => {
        const label = values[field]?.typed.trim();
        return label === undefined ? [] : [[label, field] as const];
      });
    }),
  );
}
