import type { TextField } from '../entry/field.ts';

/** A text that is asked for, with what may be picked in its stead. */
export function text(id: string, label: string, offers: readonly string[] = [], minLength = 2): TextField {
  return { kind: 'text', id, label, minLength, offers, numeric: false };
}

export const HOW_KNOWN = text('reason', 'How do you know', [
  'Measured',
  'Seen with my own eyes',
  'Told by the occupant',
]);

/** Why a step cannot pass, or is given up. */
export const REASONS = [
  'The reading does not fit',
  'A part is missing',
  'It is not as surveyed',
  'It is not safe to go on',
];
