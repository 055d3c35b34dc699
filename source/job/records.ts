import type { Json, JsonObject } from '../journal/canonical.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { FallCode } from '../procedure/fall.ts';
import type { JudgedField } from '../procedure/judge.ts';
import type { JobEvent } from '../procedure/state.ts';
import type { Proof } from '../procedure/step.ts';
import type { Action } from './action.ts';
import { type ActDone, actsIn } from './acts-done.ts';
import type { HeardAnswer } from './hearing/hearing.ts';

/** Every kind of record that this version knows; a job with another one is read and not written to. */
export const KINDS: ReadonlySet<string> = new Set([
  'open',
  'basis',
  'begin',
  'act',
  'refused',
  'interrupted',
  'here',
  'correct',
  'clock',
  'checkpoint',
  'disk-full',
  'repair',
  'seal',
  'note',
  'photo',
]);

/** What was measured, chosen or written for one field of a step, as the record keeps it. */
export type RecordedValue = {
  readonly kind: Proof['kind'];
  /** As typed; of a sweep, the greatest value met. */
  readonly typed: string;
  /** In thousandths of `unit`; null for an open circuit and for what is no figure. */
  readonly milli: number | null;
  readonly unit: 'ohm' | 'V' | 'A' | null;
  readonly open: boolean;
  /** What it was judged by, in the same thousandths; a null bound is no bound. */
  readonly window: RecordedWindow | null;
  readonly verdict: JudgedField['verdict'];
  /** How it fell, of which the verdict is what follows. Records of earlier versions do not say it. */
  readonly fall?: FallCode;
  /** What was typed was a name: `typed` is the id of a person, whose name stands in the private file. */
  readonly person?: true;
  /** Of a sweep: where the greatest value was met, and at how many points was looked. */
  readonly at?: string;
  readonly points?: number;
  /** What the program heard of the board for this answer; `typed` is what the person confirmed. */
  readonly heard?: HeardAnswer;
};

/** The bounds that a value was judged by, in thousandths of its unit. */
type RecordedWindow = {
  readonly min: number | null;
  readonly max: number | null;
  readonly usableMin: number | null;
  readonly usableMax: number | null;
};

/** A value for reading: a person by name, as far as it has not been erased. */
export function valueNamed(value: RecordedValue, nameOf: (person: string) => string): RecordedValue {
  return value.person ? { ...value, typed: nameOf(value.typed) } : value;
}

/** One try at a step: what a `confirm`, `fail`, `deviate` or `reopen` of it left in the record. */
export type StepResult = {
  readonly n: number;
  readonly at: string;
  readonly by: string | null;
  readonly do: Action['do'];
  readonly outcome: 'passed' | 'failed' | 'recorded';
  readonly values: Readonly<Record<string, RecordedValue>>;
  readonly causes: readonly string[];
  /** The person's own words, where the action asks for a reason. */
  readonly reason: string | null;
  readonly residualRisk: string | null;
  /** What was done, where it passed or was given up; null in a record of before acts were kept. */
  readonly acts: readonly ActDone[] | null;
};

/** The machine's event that a record stores, or null where it is a record only. */
export function eventOf(record: JournalRecord): JobEvent | null {
  const { event } = record.data;
  return isObject(event) && typeof event.type === 'string' ? (event as unknown as JobEvent) : null;
}

/** The step a record is about, or null. */
export function stepOf(record: JournalRecord): string | null {
  return textOf(record.data.step);
}

/** The person a record names, by id, or null. */
export function byOf(record: JournalRecord): string | null {
  return textOf(record.data.by);
}

/** What a record says of a step, or null where it judges none. */
export function resultOf(record: JournalRecord): StepResult | null {
  const { data } = record;
  if (record.kind !== 'act' || typeof data.step !== 'string') return null;
  return {
    n: record.n,
    at: record.at,
    by: byOf(record),
    do: textOf(data.do) as Action['do'],
    outcome: (textOf(data.outcome) ?? 'recorded') as StepResult['outcome'],
    values: isObject(data.values) ? (data.values as unknown as StepResult['values']) : {},
    causes: Array.isArray(data.causes) ? data.causes.filter((one) => typeof one === 'string') : [],
    reason: textOf(data.reason),
    residualRisk: textOf(data.residualRisk),
    acts: actsIn(data.acts),
  };
}

/** Whether a member of a record is an object. */
export function isObject(value: Json | undefined): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A member of a record as text, or null where it is none. */
export function textOf(value: Json | undefined): string | null {
  return typeof value === 'string' ? value : null;
}
