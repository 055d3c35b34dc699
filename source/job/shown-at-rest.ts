import type { InputRow } from '../plan/input-sheet.ts';
import type { Procedure } from '../procedure/step.ts';
import type { Replay } from './replay.ts';

/** What was seen at an input while all was quiet, as it was last confirmed. */
export type ShownAtRest = { readonly state: string; readonly record: number; readonly at: string };

/**
 * What each input showed at rest, by `board/input`. On the bench there is no contact yet, so what was seen there with a
 * jumper says nothing of it.
 */
export function shownAtRest(
  rows: readonly Pick<InputRow, 'board' | 'input' | 'rest'>[],
  { steps }: Pick<Procedure, 'steps'>,
  results: Replay['results'],
): ReadonlyMap<string, ShownAtRest> {
  const found = new Map<string, ShownAtRest>();
  for (const step of steps) {
    if (step.stage === 'prepare') continue;
    for (const proof of step.proof) {
      if (proof.kind !== 'observation') continue;
      const id = `${proof.board}/${proof.input}`;
      const row = rows.find((one) => one.board === proof.board && one.input === proof.input);
      if (row === undefined || row.rest !== proof.expect) continue;
      for (const { n, at, values } of results.get(step.id) ?? []) {
        const typed = values[proof.field]?.typed;
        if (typed !== undefined && n > (found.get(id)?.record ?? -1))
          found.set(id, { state: typed, record: n, at });
      }
    }
  }
  return found;
}
