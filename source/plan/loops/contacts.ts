import type { ContactStates, Expression } from '../../electrical/loop.ts';
import type { Circuit } from '../plan.ts';

/** One contact of a loop. */
export type Contact = Extract<Expression, { kind: 'contact' }>;

/** Every contact of a loop, in the order of its wiring. */
export function contactsOf(expression: Expression): Contact[] {
  if (expression.kind === 'contact') return [expression];
  return expression.kind === 'series' || expression.kind === 'parallel'
    ? expression.of.flatMap(contactsOf)
    : [];
}

/** How the contacts of a circuit stand at rest, where they all stand alike. */
export function senseOf(contacts: readonly Contact[]): Circuit['contact'] {
  const senses = new Set(contacts.map(({ sense }) => sense));
  return senses.size === 1 ? [...senses][0]! : 'unknown';
}

/**
 * The ways in which an input must surely read closed: a loop that is closed at rest, at rest; one that closes in
 * alarm, by any one of its contacts, for the others do not help it.
 *
 * @param own contacts of the loop; others may lie beside it, on a return that it shares
 */
export function closedWays(own: readonly Contact[], contact: Circuit['contact']): ContactStates[] {
  return contact === 'normally-open' ? oneByOne(own) : [closedStates(own)];
}

/** The ways in which an input must surely read open: at rest, or by any one of its contacts. */
export function openWays(own: readonly Contact[], contact: Circuit['contact']): ContactStates[] {
  return contact === 'normally-closed' ? oneByOne(own) : [workedOf(own, 'normally-closed')];
}

function oneByOne(own: readonly Contact[]): ContactStates[] {
  return own.map(({ detector }) => ({ [detector]: 'active' as const }));
}

/** As many contacts closed as can be. */
export function closedStates(contacts: readonly Contact[]): ContactStates {
  return workedOf(contacts, 'normally-open');
}

/** Every contact of this sense worked, the others at rest. */
function workedOf(contacts: readonly Contact[], worked: Contact['sense']): ContactStates {
  return Object.fromEntries(
    contacts.filter(({ sense }) => sense === worked).map(({ detector }) => [detector, 'active' as const]),
  );
}
