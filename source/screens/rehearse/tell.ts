import type { TypedValue } from '../../job/action.ts';
import { NOWHERE } from '../../procedure/judge.ts';
import type { Field } from '../entry/field.ts';

/**
 * What is there, in the words of the field that asks for it.
 *
 * @param answers what meter and eyes tell, each by the field of its proof
 */
export function tellAnswer(field: Field, answers: Readonly<Record<string, TypedValue>>): string {
  const value = answerTo(field.id, answers);
  if (value === null) return 'In this building: nothing, for it is not asked as things are.';
  switch (field.kind) {
    case 'reading':
      return `In this building: the meter shows ${value}.`;
    case 'choice': {
      const at = field.options.findIndex(({ id }) => id === value);
      return `In this building: ${at + 1} ${field.options[at]?.label ?? value}.`;
    }
    case 'count':
      return `In this building: ${value} were touched.`;
    case 'text':
      return `In this building: ${value}.`;
  }
}

/** Of a sweep each part is asked by itself. */
function answerTo(id: string, answers: Readonly<Record<string, TypedValue>>): string | null {
  const own = answers[id];
  if (typeof own === 'string') return own;
  const [, name = '', part] = /^(.+)\.(greatest|at|points)$/.exec(id) ?? [];
  const swept = answers[name];
  if (typeof swept !== 'object') return null;
  if (part === 'at') return Number.parseFloat(swept.greatest) === 0 ? NOWHERE : swept.at;
  return part === 'points' ? `${swept.points}` : swept.greatest;
}
