import { bridgedStates, isBridge } from './bridge.ts';
import { type Interval, overlaps } from './interval.ts';
import type { ContactExpression, ContactStates, Expression } from './loop.ts';
import { leavesOf } from './rewrite.ts';
import type { SuspectedLoop } from './suspected-loop.ts';

/** A reading that could be taken next. */
type Probe = { readonly states: ContactStates; readonly says: string };

/** Where no contact tells them apart: a cable read by itself does, and the parts at its end with it. */
const CABLE_ALONE = 'Read each cable of it alone, with its far end twisted together and then parted.';

/**
 * The next reading that would tell suspects apart: of all that could be taken, the first with the most pairs of
 * suspects that have no figure in common.
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
  let best: Probe | null = null;
  let most = 0;
  for (const probe of probesOf(contactsOf(suspects), taken)) {
    const windows = suspects.map((one) => windowOf(one.expression, { ...probe.states, ...one.states }));
    const parted = pairsApart(windows);
    if (parted > most) [best, most] = [probe, parted];
  }
  return best?.says ?? CABLE_ALONE;
}

/** By name, for the suspects are versions of one loop. */
function contactsOf(suspects: readonly SuspectedLoop[]): ContactExpression[] {
  const contacts = suspects.flatMap(({ expression }) =>
    leavesOf(expression).flatMap(({ leaf }) => (leaf.kind === 'contact' && !isBridge(leaf) ? leaf : [])),
  );
  return [...new Map(contacts.map((contact) => [contact.detector, contact])).values()];
}

/** What can be done at the loop as it is: a detector without supply cannot be worked, but powered or bridged. */
function probesOf(contacts: readonly ContactExpression[], taken: readonly ContactStates[]): Probe[] {
  const dead = Object.entries(taken[0] ?? {}).filter(([, state]) => state === 'unpowered');
  const atRest: ContactStates = Object.fromEntries(dead);
  const isDead = ({ detector }: ContactExpression) => atRest[detector] === 'unpowered';
  const all: Probe[] = [
    { states: atRest, says: 'Read it with every detector at rest.' },
    ...contacts
      .filter((contact) => !isDead(contact))
      .map(({ detector }) => ({
        states: { ...atRest, [detector]: 'active' as const },
        says: `Read it with ${detector} worked.`,
      })),
    ...contacts.map((contact) => ({
      states: { ...atRest, ...bridgedStates(contact) },
      says: `Read it with a bridge held across the contact of ${contact.detector}.`,
    })),
  ];
  return all.filter(({ states }) => !taken.some((before) => isSame(before, states)));
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
