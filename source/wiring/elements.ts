import { type Expression, RESISTOR_TOLERANCE } from '../electrical/loop.ts';
import type { FittedContact, FittedResistor, WiredConductor } from './wiring.ts';

/** End resistors of the trade lie between 1 k and 10 k: common practice, no source. */
const UNKNOWN_RESISTOR = { ohms: 5500, tolerance: 0.82 } as const;

/** Metal: what is joined without anything between. */
export const THROUGH: Expression = { kind: 'series', of: [] };

/** A resistor with its tolerance, or with everything it may be where nobody knows its value. In Ω. */
export function resistorOf(ohms: FittedResistor['ohms']): Expression {
  return ohms === 'unknown'
    ? { kind: 'resistor', ...UNKNOWN_RESISTOR }
    : { kind: 'resistor', ohms, tolerance: RESISTOR_TOLERANCE };
}

/** The name by which a contact's state is known: a detector's tamper is not its alarm contact. */
export function contactKey({ detector, purpose }: Pick<FittedContact, 'detector' | 'purpose'>): string {
  return purpose === 'tamper' ? `${detector}.tamper` : detector;
}

/** A contact as part of a loop. */
export function contactOf(contact: FittedContact): Expression {
  const { sense, closed, unpowered } = contact;
  return { kind: 'contact', detector: contactKey(contact), sense, closed, unpowered };
}

/** One conductor of a cable, one way. */
export function conductorOf({ cable, ohms }: WiredConductor): Expression {
  return { kind: 'cable', id: cable, ohms };
}
