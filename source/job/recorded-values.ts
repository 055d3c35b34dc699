import type { JudgedField } from '../procedure/judge.ts';
import type { Proof, TextProof } from '../procedure/step.ts';
import type { TypedValue } from './action.ts';
import type { HeardAnswer } from './hearing/hearing.ts';
import type { RecordedValue } from './records.ts';

/**
 * What was typed and how it was judged, field by field, as the record keeps it.
 *
 * @param people ids by name, of those who are named in it
 * @param heard what the program heard for the fields that observe an input
 */
export function recordedValues(
  proof: readonly Proof[],
  typed: Readonly<Record<string, TypedValue>>,
  judged: readonly JudgedField[],
  people: ReadonlyMap<string, string>,
  heard: Readonly<Record<string, HeardAnswer>> = {},
): Record<string, RecordedValue> {
  const kinds = new Map(proof.map((one) => [one.field, one]));
  const found: Record<string, RecordedValue> = {};
  for (const field of judged) {
    const one = kinds.get(field.field);
    const value = typed[field.field];
    if (!one || value === undefined) continue;
    const { milli, open, window, verdict, fall } = field;
    const person = typeof value === 'string' && asksWho(one) ? people.get(value) : undefined;
    const sweep = typeof value === 'string' ? {} : { at: value.at, points: value.points };
    found[field.field] = {
      kind: one.kind,
      typed: person ?? (typeof value === 'string' ? value : value.greatest),
      milli,
      unit: 'unit' in one ? one.unit : null,
      open,
      window: window && {
        min: window.minMilli,
        max: window.maxMilli,
        usableMin: window.usableMinMilli,
        usableMax: window.usableMaxMilli,
      },
      verdict,
      fall: fall.is,
      ...sweep,
      ...(person === undefined ? {} : { person: true }),
      ...(one.kind === 'observation' && Object.hasOwn(heard, field.field)
        ? { heard: heard[field.field]! }
        : {}),
    };
  }
  return found;
}

/** The names in what was typed: where a person is asked for, and none of the usual words was the answer. */
export function namesIn(proof: readonly Proof[], typed: Readonly<Record<string, TypedValue>>): string[] {
  return proof.flatMap((one) => {
    const value = typed[one.field];
    return asksWho(one) && typeof value === 'string' && !one.offers.includes(value) ? [value] : [];
  });
}

function asksWho(proof: Proof): proof is TextProof {
  return proof.kind === 'text' && proof.asksWho === true;
}
