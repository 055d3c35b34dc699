import type { Act, ActDone } from './act.ts';
import { Bench } from './bench.ts';
import type { Wiring } from './wiring.ts';

/** An act that cannot be, where the wiring is as it is. */
export type Misfit = { readonly act: Act; readonly says: string };

/** One act and how it went. */
export type Done = { readonly act: Act; readonly went: ActDone };

/**
 * The wiring after one act. An act that says what is so already changes nothing and fits; one that cannot be is a
 * misfit, and leaves everything where it is.
 *
 * @param went an act that nobody can say of leaves its conductors and parts at a place that is not known
 */
export function actOn(
  wiring: Wiring,
  act: Act,
  went: ActDone = 'done',
): { readonly wiring: Wiring; readonly misfit: Misfit | null } {
  const { wiring: after, misfits } = fold(wiring, [{ act, went }]);
  return { wiring: after, misfit: misfits[0] ?? null };
}

/** The wiring after acts in their order, and those of them that could not be. */
export function fold(
  wiring: Wiring,
  acts: readonly Done[],
): { readonly wiring: Wiring; readonly misfits: readonly Misfit[] } {
  if (acts.length === 0) return { wiring, misfits: [] };
  const bench = new Bench(wiring);
  const misfits: Misfit[] = [];
  for (const { act, went } of acts) {
    if (went === 'not-done') continue;
    const says = went === 'done' ? bench.do(act) : bench.doubt(act);
    if (says !== null) misfits.push({ act, says });
  }
  return { wiring: bench.wiring(), misfits };
}

/** The wiring after acts that were all done. */
export function foldActs(wiring: Wiring, acts: readonly Act[]): Wiring {
  return fold(
    wiring,
    acts.map((act) => ({ act, went: 'done' })),
  ).wiring;
}
