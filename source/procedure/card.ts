import type { Act } from '../wiring/act.ts';
import { actKey } from './act-words.ts';
import type {
  ChoiceProof,
  ObservationProof,
  Proof,
  ReadingProof,
  Stage,
  Step,
  SweepProof,
  TextProof,
} from './step.ts';

type Given = Pick<Step, 'id' | 'title' | 'why' | 'proof'> & Partial<Step>;

/** A card of a stage. Unless said otherwise it is hard, needs no supply state, touches nothing and waits for nothing. */
export function card(stage: Stage, given: Given): Step {
  return {
    stage,
    cautions: [],
    acts: [],
    needs: 'any',
    waitsFor: [],
    hard: true,
    repeatable: false,
    effect: null,
    onlyIf: [],
    about: [],
    ...given,
  };
}

type Lead = 'pass' | 'fail' | 'branch';

/** An answer to choose: what it is, where it leads, and what follows where it does not pass. */
export type Choice = readonly [id: string, label: string, leads: Lead, follows?: string];

/** A choice without a default. */
export function choice(field: string, label: string, options: readonly Choice[]): ChoiceProof {
  return {
    field,
    kind: 'choice',
    label,
    options: options.map(([id, text, leads, follows]) => ({
      id,
      label: text,
      leads,
      ...(leads === 'fail' && { follows: follows ?? STAYS_SHUT }),
    })),
  };
}

/** A choice of which some answers pass although acts of the card were left undone: these, by the answer. */
export function leaving(proof: ChoiceProof, leaves: Readonly<Record<string, readonly Act[]>>): ChoiceProof {
  return {
    ...proof,
    options: proof.options.map((option) => {
      const acts = leaves[option.id] ?? [];
      return acts.length === 0 ? option : { ...option, leaves: acts.map(actKey) };
    }),
  };
}

/** The usual end of a list of options: a "no" that is as near as the "yes". */
export const NOT_SURE: Choice = [
  'not-sure',
  'Not sure',
  'fail',
  'What is not known counts as the worst it may be: what waits for this stays shut. Find out, or ask somebody who knows.',
];
export const CANNOT: Choice = [
  'cannot',
  'Cannot do it',
  'fail',
  'It stays undone, and what waits for it stays shut. Say in a note what hinders it; do this step again once it can be done.',
];
const STAYS_SHUT = 'What waits for this stays shut. Put it right, then do this step again.';

/** A few words, with the usual answers to pick from. */
export function words(field: string, label: string, offers: readonly string[], minLength = 2): TextProof {
  return { field, kind: 'text', label, minLength, offers, numeric: false };
}

/** Who did or heard something: by name, or in the usual words. */
export function who(field: string, label: string, offers: readonly string[]): TextProof {
  return { ...words(field, label, offers), asksWho: true };
}

/** A number that only someone on the spot can read or count. */
export function number(field: string, label: string, offers: readonly string[] = []): TextProof {
  return { field, kind: 'text', label, minLength: 1, offers, numeric: true };
}

/** Until when, or when: a time of day, a day, or a stretch from now. */
export function time(field: string, label: string, offers: readonly string[]): TextProof {
  return { ...words(field, label, offers), check: { is: 'time' } };
}

/** How many there are, held against the survey where that says it. */
export function count(
  field: string,
  label: string,
  {
    survey = null,
    offers = [],
  }: { readonly survey?: number | null; readonly offers?: readonly string[] } = {},
): TextProof {
  return { ...number(field, label, offers), check: { is: 'count', survey } };
}

const UNITS = { ohms: 'ohm', 'volts-dc': 'V', 'volts-ac': 'V', amps: 'A' } as const;

type ReadingGiven = Pick<ReadingProof, 'field' | 'of' | 'label' | 'between'> & Partial<ReadingProof>;

/** A meter reading. Without windows it is recorded and judges nothing. */
export function reading(given: ReadingGiven): ReadingProof {
  return {
    kind: 'reading',
    unit: UNITS[given.of],
    min: null,
    nominal: null,
    max: null,
    usable: null,
    open: 'no',
    with: {},
    danger: false,
    point: null,
    ...given,
  };
}

type SweepGiven = Pick<SweepProof, 'field' | 'label' | 'points' | 'min' | 'max'> &
  Partial<SweepProof> & { of: 'volts-dc' | 'volts-ac' | 'ohms' };

/** One instrument, many points, the greatest value met. */
export function sweep(given: SweepGiven): SweepProof {
  return { kind: 'sweep', unit: UNITS[given.of], ...given };
}

/** What the receiving side shows. */
export function seen(
  field: string,
  label: string,
  at: { readonly board: string; readonly input: string; readonly detector: string },
  expect: ObservationProof['expect'],
): ObservationProof {
  return { field, kind: 'observation', label, ...at, expect };
}

/** Proofs that belong together only where something is so. */
export function when(condition: boolean, ...proof: Proof[]): Proof[] {
  return condition ? proof : [];
}
