import { parseQuantity } from '../../electrical/quantity.ts';
import { isAsked } from '../../procedure/asked.ts';
import type { Field } from './field.ts';

/**
 * Whether the answers so far ask for a field: nobody is to make up a second reading of a voltage that was not met,
 * nor to read ohms on a live pair.
 *
 * @param answerOf what stands in a field by its id, as text; undefined where there is no such field
 */
export function isFieldAsked(field: Field, answerOf: (id: string) => string | undefined): boolean {
  if (field.kind !== 'reading' || field.scale?.kind !== 'reading') return true;
  return isAsked(field.scale, (met) => {
    const text = answerOf(`${met}.greatest`) ?? answerOf(met) ?? '';
    const parsed = parseQuantity(text.trim(), 'volts', 'field-unit');
    return parsed.ok ? parsed.value : null;
  });
}
