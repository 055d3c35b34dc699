import { parseQuantity } from '../../electrical/quantity.ts';
import { isAsked } from '../../procedure/asked.ts';
import type { Field } from './field.ts';

/** Whether this answer by itself says that the step cannot pass. */
export function isDecided(field: Field, text: string): boolean {
  return field.kind === 'choice' && field.options.find(({ id }) => id === text)?.leads === 'fail';
}

/**
 * Whether the answers so far ask for a field: nobody is to make up a second reading of a voltage that was not met,
 * nor to read ohms on a live pair.
 *
 * @param answerOf what stands in a field by its id, as text; undefined where there is no such field
 */
export function isFieldAsked(field: Field, answerOf: (id: string) => string | undefined): boolean {
  if (field.kind !== 'reading' || field.scale?.kind !== 'reading') return true;
  const met = (id: string) => {
    const text = answerOf(`${id}.greatest`) ?? answerOf(id) ?? '';
    const parsed = parseQuantity(text.trim(), 'volts', 'field-unit');
    return parsed.ok ? parsed.value : null;
  };
  return isAsked(field.scale, met, answerOf);
}
