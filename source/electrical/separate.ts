import type { SuspectedLoop } from './diagnose.ts';
import { type Interval, overlaps } from './interval.ts';
import type { ContactStates, Expression } from './loop.ts';
import { leavesOf } from './rewrite.ts';

/** A reading that could be taken next. */
type Probe = { readonly states: ContactStates; readonly says: string };

/** Where no contact tells them apart: a cable read by itself does, and the parts at its end with it. */
const CABLE_ALONE = 'Read each cable of it alone, with its far end twisted together and then parted.';

/**
 * The next reading that would tell suspects apart: of all contacts that could be worked, the one where most
 * pairs of suspects have no figure in common.
 *
 * @param taken how the contacts stood in the readings so far
 * @returns `null` where there is nothing to tell apart
 */
export function separatingReading(
  suspects: readonly SuspectedLoop[],
  taken: readonly ContactStates[],
  windowOf: (expression: Expression, states: ContactStates) => Interval,
): string | null {
  if (suspects.length < 2) return null;
  const detectors = new Set(
    suspects.flatMap(({ expression }) =>
      leavesOf(expression).flatMap(({ leaf }) => (leaf.kind === 'contact' ? leaf.detector : [])),
    ),
  );
  const probes: Probe[] = [
    { states: {}, says: 'Read it with every detector at rest.' },
    ...[...detectors].map((detector) => ({
      states: { [detector]: 'active' as const },
      says: `Read it with ${detector} worked.`,
    })),
  ];
  let best: Probe | null = null;
  let most = 0;
  for (const probe of probes.filter(({ states }) => !taken.some((before) => isSame(before, states)))) {
    const windows = suspects.map((one) => windowOf(one.expression, { ...probe.states, ...one.states }));
    const parted = pairsApart(windows);
    if (parted > most) [best, most] = [probe, parted];
  }
  return best?.says ?? CABLE_ALONE;
}

function pairsApart(windows: readonly Interval[]): number {
  return windows.reduce(
    (sum, one, at) => sum + windows.slice(at + 1).filter((other) => !overlaps(one, other)).length,
    0,
  );
}

function isSame(a: ContactStates, b: ContactStates): boolean {
  const worked = (states: ContactStates) =>
    Object.entries(states)
      .filter(([, state]) => state !== 'rest')
      .map((entry) => entry.join(':'))
      .sort()
      .join();
  return worked(a) === worked(b);
}
