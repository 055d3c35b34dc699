import type { TypedValue } from '../../job/action.ts';
import { QUANTITY_OF } from '../../procedure/figure.ts';
import { NOWHERE } from '../../procedure/judge.ts';
import { placeName } from '../../procedure/place-name.ts';
import type {
  ChoiceProof,
  ObservationProof,
  Proof,
  ReadingProof,
  SweepProof,
  TextProof,
} from '../../procedure/step.ts';
import { isNothing } from './asked.ts';

/** One thing to be answered: what a form is made of. A proof is one field, a sweep three. */
export type Field = ReadingField | ChoiceField | TextField | CountField;

export type ReadingField = {
  readonly kind: 'reading';
  readonly id: string;
  readonly label: string;
  readonly quantity: 'ohms' | 'volts' | 'amps';
  readonly unit: string;
  /** The windows that are drawn beside the entry. */
  readonly scale: ReadingProof | SweepProof | null;
};

/** `keyed`: digits choose at once (nine at most), otherwise the number is typed. */
export type ChoiceField = {
  readonly kind: 'choice';
  readonly id: string;
  readonly label: string;
  readonly options: readonly Option[];
  /** Asked only where another choice was answered so. */
  readonly when?: { readonly field: string; readonly is: string };
  /** The question of a step that is chosen from here, if it is one. */
  readonly proof?: ChoiceProof | ObservationProof;
};

/** `leads`: what choosing it does, where a step asks. */
export type Option = {
  readonly id: string;
  readonly label: string;
  readonly leads?: 'pass' | 'fail' | 'branch';
};

/** `mayBeEmpty`: nothing typed is an answer as well. */
export type TextField = {
  readonly kind: 'text';
  readonly id: string;
  readonly label: string;
  readonly minLength: number;
  readonly offers: readonly string[];
  readonly numeric: boolean;
  /** Asked only where another field was answered with what asks for it. */
  readonly when?: { readonly field: string; readonly asks: (answer: string) => boolean };
  /** The question of a step that is answered here, if it is one. */
  readonly proof?: TextProof;
};

export type CountField = {
  readonly kind: 'count';
  readonly id: string;
  readonly label: string;
  readonly of: number;
};

const SEEN = [
  { id: 'open', label: 'the input reports open' },
  { id: 'closed', label: 'the input reports closed' },
  { id: 'nothing', label: 'nothing was seen at it' },
];

/** Where a step asks for nothing, it is still said in so many words that it was done. */
export const PLAIN_DONE: ChoiceField = {
  kind: 'choice',
  id: 'done',
  label: 'Is it done?',
  options: [{ id: 'done', label: 'Yes, it is done as it stands here' }],
};

/** The fields a step's proofs ask for, in order. `nameOf`: what the places that probes touch are called. */
export function fieldsOf(proofs: readonly Proof[], nameOf = placeName): readonly Field[] {
  return proofs.length === 0 ? [PLAIN_DONE] : proofs.flatMap((proof) => fieldsOfProof(proof, nameOf));
}

function fieldsOfProof(proof: Proof, nameOf: (point: string) => string): readonly Field[] {
  switch (proof.kind) {
    case 'reading':
      return [
        {
          kind: 'reading',
          id: proof.field,
          label: proof.label,
          quantity: QUANTITY_OF[proof.of],
          unit: proof.unit,
          scale: proof,
        },
      ];
    case 'sweep':
      return [
        {
          kind: 'reading',
          id: `${proof.field}.greatest`,
          label: `${proof.label}: the greatest value met`,
          quantity: QUANTITY_OF[proof.of],
          unit: proof.unit,
          scale: proof,
        },
        {
          kind: 'choice',
          id: `${proof.field}.at`,
          label: 'Where was it met?',
          options: [
            ...proof.points.map((point) => ({ id: point, label: nameOf(point) })),
            { id: NOWHERE, label: 'nowhere: nothing was met' },
          ],
        },
        {
          kind: 'count',
          id: `${proof.field}.points`,
          label: 'How many points were touched?',
          of: proof.points.length,
        },
      ];
    case 'choice':
      return [{ kind: 'choice', id: proof.field, label: proof.label, options: proof.options, proof }];
    case 'text':
      return [
        {
          kind: 'text',
          id: proof.field,
          label: proof.label,
          minLength: proof.minLength,
          offers: proof.offers,
          numeric: proof.numeric,
          proof,
        },
      ];
    case 'observation':
      return [
        {
          kind: 'choice',
          id: proof.field,
          label: proof.label,
          options: SEEN.map((seen) => ({ ...seen, leads: seen.id === proof.expect ? 'pass' : 'fail' })),
          proof,
        },
      ];
  }
}

/** The values of a `confirm`, from the answers of the fields of its proofs. */
export function valuesOf(
  proofs: readonly Proof[],
  answers: Readonly<Record<string, string>>,
): Record<string, TypedValue> {
  return Object.fromEntries(
    proofs.map((proof) => [
      proof.field,
      proof.kind === 'sweep' && answers[`${proof.field}.greatest`]
        ? {
            greatest: answers[`${proof.field}.greatest`] ?? '',
            at: isNothing(answers[`${proof.field}.greatest`])
              ? NOWHERE
              : (answers[`${proof.field}.at`] ?? ''),
            points: Number(answers[`${proof.field}.points`] ?? 0),
          }
        : (answers[proof.field] ?? ''),
    ]),
  );
}

/** The same of a card that is still being answered: of a sweep what was said of it so far. */
export function valuesSoFar(
  proofs: readonly Proof[],
  answers: Readonly<Record<string, string>>,
): Record<string, unknown> {
  return Object.fromEntries(
    proofs.map(({ kind, field }) => {
      if (kind !== 'sweep') return [field, answers[field]];
      const greatest = answers[`${field}.greatest`];
      const points = answers[`${field}.points`] || null;
      return [field, greatest && { greatest, at: answers[`${field}.at`], points: points && Number(points) }];
    }),
  );
}
