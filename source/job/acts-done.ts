import type { Json, JsonObject } from '../journal/canonical.ts';
import { actKey } from '../procedure/act-words.ts';
import type { Act } from '../wiring/act.ts';
import { fittedId } from '../wiring/bench.ts';

/** How an act of a card went: as it says, not at all, or nobody can say. */
export const WENT = ['done', 'not-done', 'unknown'] as const;
export type Went = (typeof WENT)[number];

/** As it is told in the record and asked in a form. */
export const WENT_WORDS: Readonly<Record<Went, string>> = {
  done: 'done',
  'not-done': 'not done',
  unknown: 'nobody can say whether it is done',
};

/** An act of a card that passed or was given up, and how it went. */
export type ActDone = { readonly act: Act; readonly went: Went };

/** What a person said of the acts of a card that is given up, each by its name. */
export type SaidOfAct = { readonly act: string; readonly how: Went };

/**
 * The acts of a card with what was said of each. Of what nothing was said nobody can say how it stands.
 *
 * @returns a sentence where something was said of no act of the card, or twice of one
 */
export function actsAsSaid(acts: readonly Act[], said: readonly SaidOfAct[]): readonly ActDone[] | string {
  const keys = acts.map(actKey);
  const stray = said.find(({ act }) => !keys.includes(act));
  if (stray !== undefined)
    return keys.length === 0
      ? `This step has no acts, and ${JSON.stringify(stray.act)} is none of it. Leave "acts" out.`
      : `${JSON.stringify(stray.act)} is no act of this step. Say how each of these went: ${keys.join(', ')}.`;
  const twice = said.find(({ act }, at) => said.findIndex((one) => one.act === act) !== at);
  if (twice !== undefined)
    return `Of ${JSON.stringify(twice.act)} it is said twice how it went. Say it once.`;
  const how = new Map(said.map((one) => [one.act, one.how]));
  return acts.map((act) => ({ act, went: how.get(actKey(act)) ?? 'unknown' }));
}

/** What an act makes otherwise: its wires, its resistor, its source or what it takes away, by name. */
export function subjectsOf(act: Act): readonly string[] {
  if (act.do === 'fit-resistor') return [fittedId(act)];
  if ('conductors' in act) return act.conductors;
  if ('conductor' in act) return [act.conductor];
  if ('resistor' in act) return [act.resistor];
  if ('source' in act) return [act.source];
  if (act.do === 'mount') return [act.board];
  if (act.do === 'link') return linkNames(act);
  return 'what' in act ? [act.what] : [];
}

/** Each wire of a link from one terminal to the next: `b1:C1-C2`. */
function linkNames({ board, terminals }: Extract<Act, { do: 'link' }>): string[] {
  return terminals.slice(1).map((to, at) => `${board}:${terminals[at]}-${to}`);
}

/** Every act on record, in the order of the records. */
export function actsInOrder(
  results: ReadonlyMap<string, readonly { readonly n: number; readonly acts: readonly ActDone[] | null }[]>,
): readonly (ActDone & { readonly n: number })[] {
  return [...results.values()]
    .flat()
    .sort((a, b) => a.n - b.n)
    .flatMap(({ n, acts }) => (acts ?? []).map((one) => ({ n, ...one })));
}

/** Acts as a record holds them: ohms in thousandths, since a record has no fractions; `went` where it is not done. */
export function recordActs(acts: readonly ActDone[]): JsonObject[] {
  return acts.map(({ act, went }) => {
    const { ohms, ...rest } = act as Act & { readonly ohms?: number | null };
    return {
      ...(rest as unknown as JsonObject),
      ...(ohms === undefined ? {} : { milliohms: ohms === null ? null : Math.round(ohms * 1000) }),
      ...(went === 'done' ? {} : { went }),
    };
  });
}

/** The acts in a record; null where it was made before acts were recorded. */
export function actsIn(recorded: Json | undefined): readonly ActDone[] | null {
  if (!Array.isArray(recorded)) return null;
  return recorded.map((one: JsonObject) => {
    const { went = 'done', milliohms, ...act } = one;
    const ohms = typeof milliohms === 'number' ? milliohms / 1000 : milliohms;
    return {
      act: { ...act, ...(ohms === undefined ? {} : { ohms }) } as unknown as Act,
      went: went as Went,
    };
  });
}
