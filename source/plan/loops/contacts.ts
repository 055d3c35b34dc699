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

/** As many contacts closed as can be. */
export function closedStates(expression: Expression): ContactStates {
  return statesWhere(expression, 'normally-open');
}

/** As many contacts open as can be. */
export function openStates(expression: Expression): ContactStates {
  return statesWhere(expression, 'normally-closed');
}

/** Every contact of this sense worked, the others at rest. */
function statesWhere(expression: Expression, worked: Contact['sense']): ContactStates {
  return Object.fromEntries(
    contactsOf(expression)
      .filter(({ sense }) => sense === worked)
      .map(({ detector }) => [detector, 'active' as const]),
  );
}
