import { isUtf8 } from 'node:buffer';
import { canonicalJson, type Json, type JsonObject } from './canonical.ts';
import { sha256 } from './digest.ts';
import { JournalError } from './error.ts';

export const FORMAT = 'loopward/journal@1';

/** The longest line of a journal, its newline included. Recovery takes anything longer for damage. */
export const LINE_LIMIT_BYTES = 64 * 1024;

/** `prev` of the first record. */
export const NO_DIGEST = '0'.repeat(64);

/**
 * One line of a journal. The order of records is `n`, never `at`: a clock may be set at any time.
 * `mono` counts milliseconds since the writing program took the journal.
 */
export type JournalRecord = {
  readonly at: string;
  readonly data: JsonObject;
  readonly kind: string;
  readonly mono: number;
  readonly n: number;
  readonly prev: string;
  /** SHA-256 of the line as written, without this member. */
  readonly sha256: string;
};

export const NEWLINE = 0x0a;
export const CLOSING_BRACE = 0x7d;
const KEYS = 'at,data,kind,mono,n,prev,sha256';
const KIND = /^[a-z]+(-[a-z]+)*$/;
const AT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;

/**
 * The bytes of a record and the record with its digest.
 *
 * The digest covers the RFC 8785 form without the member `sha256`. As `sha256` sorts last, that is the line up to
 * `,"sha256"` and a closing brace, so `sed` and `sha256sum` can check one line.
 *
 * @throws TypeError if the data holds what JSON cannot carry; JournalError `too-large` past 64 KiB
 */
export function formatRecord(body: Omit<JournalRecord, 'sha256'>): { record: JournalRecord; bytes: Buffer } {
  if (!KIND.test(body.kind)) throw new TypeError(`"${body.kind}" is no kind of record.`);
  const { at, data, kind, mono, n, prev } = body;
  const text = canonicalJson({ at, data, kind, mono, n, prev });
  const digest = sha256(text);
  const bytes = Buffer.from(`${text.slice(0, -1)},"sha256":"${digest}"}\n`);
  if (bytes.length > LINE_LIMIT_BYTES)
    throw new JournalError(
      'too-large',
      `A record of ${bytes.length} bytes is longer than the ${LINE_LIMIT_BYTES} a line may have. Split it.`,
    );
  return { record: { at, data, kind, mono, n, prev, sha256: digest }, bytes };
}

/** The record in a line without its newline, or null if the line is not of this closed format. */
export function parseRecord(line: Buffer): JournalRecord | null {
  if (!isUtf8(line)) return null;
  let value: Json;
  try {
    value = JSON.parse(line.toString('utf8')) as Json;
  } catch {
    return null;
  }
  if (typeof value !== 'object' || value === null || Object.keys(value).join() !== KEYS) return null;
  const record = value as unknown as JournalRecord;
  const isRecord =
    typeof record.at === 'string' &&
    AT.test(record.at) &&
    typeof record.data === 'object' &&
    record.data !== null &&
    !Array.isArray(record.data) &&
    typeof record.kind === 'string' &&
    KIND.test(record.kind) &&
    Number.isSafeInteger(record.mono) &&
    Number.isSafeInteger(record.n) &&
    typeof record.prev === 'string' &&
    typeof record.sha256 === 'string';
  return isRecord ? record : null;
}
