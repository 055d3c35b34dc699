import type { ContactState, ContactStates, Expression } from '../../electrical/loop.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import type { Glyphs } from './glyphs.ts';

const STANDS: Readonly<Record<ContactState, string>> = {
  rest: 'at rest',
  active: 'WORKED',
  unpowered: 'no supply',
};

/** The loop that is read, from one meter lead to the other: contacts in brackets, resistors in round ones. */
export function loopLine(
  between: readonly [string, string],
  expression: Expression,
  states: ContactStates,
  glyphs: Glyphs,
): string {
  const wire = glyphs.wire.repeat(2);
  const ends = between.map((end) => end.replace(/^old:/, 'screw '));
  return `${ends[0]} ${wire} ${part(expression, states, glyphs, false)} ${wire} ${ends[1]}`;
}

function part(expression: Expression, states: ContactStates, glyphs: Glyphs, inside: boolean): string {
  const wire = ` ${glyphs.wire.repeat(2)} `;
  switch (expression.kind) {
    case 'series':
      return expression.of.map((one) => part(one, states, glyphs, true)).join(wire);
    case 'parallel': {
      const sides = expression.of.map((one) => part(one, states, glyphs, true)).join(' || ');
      return inside ? `{ ${sides} }` : sides;
    }
    case 'contact':
      return `[${expression.detector} ${STANDS[states[expression.detector] ?? 'rest']}]`;
    case 'resistor':
      return `(${formatQuantity(expression.ohms, 'ohms')})`;
    case 'cable':
      return expression.id;
    case 'open':
      return 'open';
  }
}
