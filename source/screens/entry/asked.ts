import { isAsked } from '../../procedure/asked.ts';
import { endsCard } from '../../procedure/decisive.ts';
import { readFigure } from '../../procedure/figure.ts';
import type { Field } from './field.ts';

/** What stands in a field by its id, as text; undefined where there is no such field. */
type AnswerOf = (id: string) => string | undefined;

/**
 * Whether the answers before it ask for the field at this place: nobody is to make up a second reading of a voltage that
 * was not met, nor the place of a voltage that was not met, nor to read ohms on a live pair, nor to go on touching where
 * hands come off.
 */
export function isFieldAsked(fields: readonly Field[], index: number, answerOf: AnswerOf): boolean {
  const field = fields[index];
  if (field === undefined) return false;
  const isEnded = (before: Field) => endsItsCard(before, answerOf) && !isPartOf(field, before);
  if (fields.slice(0, index).some(isEnded)) return false;
  if (field.kind === 'choice' && field.when && answerOf(field.when.field) !== field.when.is) return false;
  if (field.kind === 'text' && field.when && !field.when.asks(answerOf(field.when.field) ?? '')) return false;
  if (field.id.endsWith('.at') && isNothing(answerOf(`${field.id.slice(0, -'.at'.length)}.greatest`)))
    return false;
  if (field.kind !== 'reading' || field.scale?.kind !== 'reading') return true;
  return isAsked(field.scale, metIn(answerOf), answerOf);
}

function endsItsCard(field: Field, answerOf: AnswerOf): boolean {
  const chosen = answerOf(field.id) ?? '';
  if (field.kind === 'choice')
    return field.proof !== undefined && endsCard(field.proof, { chosen, figure: null }, metIn(answerOf));
  if (field.kind !== 'reading' || field.scale === null) return false;
  return endsCard(field.scale, { chosen, figure: voltsIn(chosen) }, metIn(answerOf));
}

/** Where and at how many points a sweep met what it met belongs to it. */
function isPartOf(field: Field, sweep: Field): boolean {
  return (
    sweep.kind === 'reading' && sweep.scale?.kind === 'sweep' && field.id.startsWith(`${sweep.scale.field}.`)
  );
}

const metIn = (answerOf: AnswerOf) => (id: string) =>
  voltsIn(answerOf(`${id}.greatest`) ?? answerOf(id) ?? '');

/** Whether a sweep met nothing at all: then there is no place to name. */
export function isNothing(greatest: string | undefined): boolean {
  return voltsIn(greatest ?? '') === 0;
}

function voltsIn(text: string): number | null {
  const read = readFigure('volts-dc', text.trim());
  return read.ok ? read.value : null;
}
