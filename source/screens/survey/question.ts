import { type Parsed, parseQuantity, type QuantityKind, type Units } from '../../electrical/quantity.ts';
import { bareUnit, withBareUnit } from '../../site/field-units.ts';

/**
 * One question of the survey. Its `id` says what it is about (`z2.d1.kind`), so that answers are a flat table,
 * kept as a draft at every one of them. `standard` is what Enter takes; an entry is no gate.
 */
export type Question = {
  readonly id: string;
  /** What it is about, as a heading: `Zone 2, Galley`. */
  readonly about: string;
  readonly asks: string;
  readonly standard: string | null;
  readonly kind: 'choice' | 'words' | 'figure' | 'pair' | 'currents';
  readonly options: readonly { readonly id: string; readonly label: string }[];
  readonly quantity: QuantityKind | null;
};

export type Answers = Readonly<Record<string, string>>;

type Said = Pick<Question, 'id' | 'about' | 'asks'> & { readonly standard?: string | null };

/** A question with its answers to choose from. */
export function choice(said: Said, ...options: readonly (readonly [id: string, label: string])[]): Question {
  return {
    ...said,
    standard: said.standard ?? null,
    kind: 'choice',
    options: options.map(([id, label]) => ({ id, label })),
    quantity: null,
  };
}

/** A question that is answered in words. */
export function words(said: Said): Question {
  return { ...said, standard: said.standard ?? null, kind: 'words', options: [], quantity: null };
}

/** A question that is answered with a figure of this quantity. */
export function figure(said: Said, quantity: QuantityKind): Question {
  return { ...said, standard: said.standard ?? 'unknown', kind: 'figure', options: [], quantity };
}

/** A question that is answered with two screws. */
export function pair(said: Said): Question {
  return { ...said, standard: said.standard ?? null, kind: 'pair', options: [], quantity: null };
}

/** A question that is answered with two currents: at rest and in alarm. */
export function currents(said: Said): Question {
  return { ...said, standard: 'unknown', kind: 'currents', options: [], quantity: null };
}

/** What a bare figure is taken for, where either system is common; null where there is no doubt. */
export function unitHint({ quantity }: Question, units: Units): string | null {
  const other = units === 'imperial' ? 'metric' : 'imperial';
  if (quantity === 'metres' || quantity === 'celsius')
    return `a bare figure is in ${bareUnit(quantity, units)}; with its unit ${bareUnit(quantity, other)} does as well`;
  return null;
}

/**
 * What was typed, as the survey's file has it: a figure with its unit.
 *
 * @example settle(figure({ id: 'a', about: '', asks: '' }, 'metres'), '18') // => { ok: true, value: '18 m' }
 */
export function settle(question: Question, typed: string, units: Units = 'metric'): Parsed<string> {
  const text = typed.trim();
  if (text === '' && question.standard !== null) return { ok: true, value: question.standard };
  switch (question.kind) {
    case 'choice':
      return question.options.some((option) => option.id === text)
        ? { ok: true, value: text }
        : { ok: false, says: 'Press the number of what is so.' };
    case 'words':
      return text === '' ? { ok: false, says: 'Type a name.' } : { ok: true, value: text };
    case 'pair':
      return /^\S{1,8}[ ,/]+\S{1,8}$/.test(text)
        ? { ok: true, value: text.split(/[ ,/]+/).join(' ') }
        : { ok: false, says: 'Type the two screws with a blank or a point between, such as 8 9.' };
    case 'currents': {
      const figures = text.split(/[ /]+/);
      return figures.length <= 2 && figures.every((one) => /^\d+([.,]\d+)?$/.test(one))
        ? { ok: true, value: figures.join(' ') }
        : { ok: false, says: 'Type milliamps at rest and in alarm, such as 15 25.' };
    }
    case 'figure':
      return settleFigure(question, text, units);
  }
}

function settleFigure({ quantity }: Question, text: string, units: Units): Parsed<string> {
  if (text.toLowerCase() === 'unknown') return { ok: true, value: 'unknown' };
  const full = withBareUnit(quantity!, text, units);
  const parsed = parseQuantity(full, quantity!);
  return parsed.ok ? { ok: true, value: full } : parsed;
}
