import type { JudgedField } from '../procedure/judge.ts';
import type { Proof } from '../procedure/step.ts';
import type { TypedValue } from './action.ts';
import type { RecordedValue } from './records.ts';

/** What was typed and how it was judged, field by field, as the record keeps it. */
export function recordedValues(
  proof: readonly Proof[],
  typed: Readonly<Record<string, TypedValue>>,
  judged: readonly JudgedField[],
): Record<string, RecordedValue> {
  const kinds = new Map(proof.map((one) => [one.field, one]));
  const found: Record<string, RecordedValue> = {};
  for (const field of judged) {
    const one = kinds.get(field.field);
    const value = typed[field.field];
    if (!one || value === undefined) continue;
    const { milli, open, window, verdict } = field;
    const sweep = typeof value === 'string' ? {} : { at: value.at, points: value.points };
    found[field.field] = {
      kind: one.kind,
      typed: typeof value === 'string' ? value : value.greatest,
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
      ...sweep,
    };
  }
  return found;
}
