import { type Parsed, parseQuantity } from '../../electrical/quantity.ts';
import { readFigure } from '../../procedure/figure.ts';
import { checkText } from '../../procedure/judge-text.ts';
import type { TextProof } from '../../procedure/step.ts';
import type { Field, ReadingField } from './field.ts';

/**
 * An answer being given. `typed` holds what stands in the field as text; `picked` the number of the option
 * or offer that was chosen on purpose; `letters` where the letter picker stands, null while it is shut.
 */
export type Answer = {
  readonly typed: string;
  readonly picked: number | null;
  readonly letters: number | null;
};

export const BLANK: Answer = { typed: '', picked: null, letters: null };

/** What the answer says, as it is recorded. */
export function textOf(field: Field, answer: Answer): string {
  if (field.kind === 'choice') return answer.picked === null ? '' : (field.options[answer.picked]?.id ?? '');
  if (field.kind === 'text' && answer.picked !== null) return field.offers[answer.picked] ?? '';
  return answer.typed.trim();
}

/** Why the answer cannot stand yet, in words for the person; null where it can. */
export function checkAnswer(field: Field, answer: Answer): string | null {
  const text = textOf(field, answer);
  switch (field.kind) {
    case 'choice':
      return text === '' ? 'Press the number of what is so, then Enter.' : null;
    case 'text':
      if (text.length >= field.minLength) return field.proof ? refusalOf(field.proof, text) : null;
      return text === ''
        ? field.offers.length > 0
          ? 'Press the number of an answer, or type one.'
          : 'Type what you see there.'
        : `At least ${field.minLength} characters are needed. Type the rest.`;
    case 'count': {
      if (text === '') return 'Type how many.';
      return /^\d{1,4}$/.test(text) ? null : 'This is no whole number. Type digits only.';
    }
    case 'reading': {
      if (text === '') return 'Type what the meter shows.';
      const read = figureOf(field, text);
      return read.ok ? null : read.says;
    }
  }
}

function refusalOf(proof: TextProof, text: string): string | null {
  const checked = checkText(proof, text);
  return 'problem' in checked ? checked.problem : null;
}

/** The value of a reading while it is typed, for the mark on its scale; null where it is none yet. */
export function typedFigure(field: Field, answer: Answer): number | null {
  if (field.kind !== 'reading' || answer.typed === '') return null;
  const read = figureOf(field, answer.typed.trim());
  return read.ok ? read.value : null;
}

/** A reading of a card as its record reads it; one of a form, by its quantity. */
function figureOf({ scale, quantity }: ReadingField, text: string): Parsed<number> {
  return scale === null ? parseQuantity(text, quantity, 'field-unit') : readFigure(scale.of, text);
}
