import type { Json, JsonObject } from '../journal/canonical.ts';
import type { JournalRecord } from '../journal/record.ts';
import { isObject, type RecordedValue } from './records.ts';

/** Members of a record that tell neither of a person nor of a place; any other is left out of a redacted copy. */
const TELLS_NOBODY = new Set([
  'do',
  'by',
  'step',
  'event',
  'outcome',
  'causes',
  'acknowledged',
  'because',
  'why',
  'gapSeconds',
  'seconds',
  'zeroMilliohms',
  'bytes',
  'sha256',
  'set',
  'part',
  'verdict',
  'acts',
  'reopens',
  'steps',
  'piece',
  'of',
  'job',
  'format',
  'planDigest',
  'rehearsal',
  'jump',
  'looksLike',
  'count',
  'head',
  'offset',
  'dropped',
]);

/**
 * The data of a record for passing on: figures, choices and verdicts stay, names and free words go. It no longer
 * is what the chain was made over; it quotes the record's number.
 */
export function redactData(record: JournalRecord): JsonObject {
  const kept = Object.entries(record.data)
    .filter(([key]) => TELLS_NOBODY.has(key))
    .map(([key, value]): [string, Json] => [key, value]);
  const { values } = record.data;
  if (isObject(values)) kept.push(['values', redactValues(values)]);
  return Object.fromEntries(kept);
}

function redactValues(values: JsonObject): JsonObject {
  return Object.fromEntries(
    Object.entries(values).map(([field, value]) => {
      const { kind, person } = value as unknown as RecordedValue;
      const isFree = kind === 'text' && person !== true;
      return [field, isFree && isObject(value) ? { ...value, typed: '(left out)' } : value];
    }),
  );
}
