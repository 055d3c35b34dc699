import type { Cause } from '../electrical/causes.ts';
import type { FallCode } from '../procedure/fall.ts';
import type { Proof } from '../procedure/step.ts';
import type { Topic } from '../procedure/topic.ts';
import type { HeardSign } from './hearing/say-heard.ts';

/** An answer that does not fit, as data: what was asked, how it fell, and what else of the card helps to explain it. */
export type Seen = {
  readonly topic: Topic | null;
  readonly kind: Proof['kind'];
  readonly of: 'ohms' | 'volts-dc' | 'volts-ac' | 'amps' | null;
  /** The question's own name on its card. */
  readonly field: string;
  readonly fall: FallCode;
  /** What an input showed. */
  readonly shown: 'open' | 'closed' | 'nothing' | null;
  /** The option that was chosen. */
  readonly option: string | null;
  /** The reading in the proof's unit; NaN where it is none. */
  readonly value: number;
  /** It lies below what was expected. */
  readonly below: boolean;
  /** The detector it is about needs a supply. */
  readonly powered: boolean;
  /** An AC voltage was read on the same card. */
  readonly alternates: boolean;
  /** A voltage was met on a sounder's own wires. */
  readonly atSounder: boolean;
  /** The supply at the detector's own terminals, where it was read because its input is not as it should be. */
  readonly supply: 'right' | 'low' | 'none' | 'reversed' | null;
  /** How its own contact stands, by the volts across it. */
  readonly contact: 'open' | 'closed' | null;
  /** What is odd about what the program heard of the board for this answer. */
  readonly heard: HeardSign | null;
};

/** What must be so of an answer; what is not named may be anything. `size`: from, up to and without, its sign aside. */
export type Pattern = Partial<
  Pick<
    Seen,
    | 'kind'
    | 'of'
    | 'fall'
    | 'shown'
    | 'option'
    | 'below'
    | 'powered'
    | 'alternates'
    | 'atSounder'
    | 'supply'
    | 'contact'
    | 'heard'
  >
> & {
  readonly topic?: readonly Topic[];
  /** The field's name, or how it begins where an id follows. */
  readonly field?: string;
  readonly size?: readonly [number, number];
  readonly negative?: true;
};

export type Symptom = { readonly when: Pattern; readonly causes: readonly Cause[] };

const NO_END = Number.POSITIVE_INFINITY;

/** Whether an answer is as a pattern says. */
export function isLike(seen: Seen, { topic, field, size, negative, ...same }: Pattern): boolean {
  const height = Math.abs(seen.value);
  return (
    (topic === undefined || (seen.topic !== null && topic.includes(seen.topic))) &&
    (field === undefined || seen.field === field || seen.field.startsWith(`${field}-`)) &&
    (size === undefined || (height >= size[0] && (height < size[1] || size[1] === NO_END))) &&
    (negative === undefined || seen.value < 0) &&
    Object.entries(same).every(([key, value]) => seen[key as keyof typeof same] === value)
  );
}
