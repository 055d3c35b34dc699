import { sha256 } from './digest.ts';
import { CLOSING_BRACE } from './record.ts';

/** A line under examination: its place in the reader's buffer, and its last bytes as text. */
export type Line = { readonly buffer: Buffer; start: number; end: number; tail: string };
/** What the record before it, or the start of the chain, asks of a line. */
type Expected = { n: number; prev: string };

export type CheckName = 'form' | 'number' | 'link' | 'digest';
export type Check = {
  readonly name: CheckName;
  /** What is wrong with a line that fails. */
  readonly says: string;
  holds(line: Line, expected: Expected): boolean;
};

// Every line ends in  ,"n":N,"prev":"<64>","sha256":"<64>"}  so nothing need be parsed to check the chain.
const DIGEST_AT = 66;
const LINK_AT = 142;
const BEFORE_DIGEST = '","sha256":"';
const BEFORE_LINK = ',"prev":"';
const NUMBER_END = LINK_AT + BEFORE_LINK.length;
/** Longer than the end of any line from `"kind"` on. */
const TAIL_BYTES = 240;

/**
 * Points the one line that is reused at other bytes of its buffer: a journal of 10,000 records makes no
 * object each.
 */
export function setLine(line: Line, start: number, end: number): Line {
  line.start = start;
  line.end = end;
  line.tail = line.buffer.toString('latin1', Math.max(start, end - TAIL_BYTES), end);
  return line;
}

/** The digest a line claims, in hex, from its end. */
export function digestIn(line: Line): string {
  return line.tail.slice(-DIGEST_AT, -2);
}

/** The kind a line claims, from its end. */
export function kindIn(line: Line): string {
  const start = line.tail.lastIndexOf('"kind":"') + 8;
  return line.tail.slice(start, line.tail.indexOf('"', start));
}

/** SHA-256 of the line without its member `sha256`: the bytes before it and a closing brace. */
function digestOf(line: Pick<Line, 'buffer' | 'start' | 'end'>): string {
  const brace = line.end - DIGEST_AT - BEFORE_DIGEST.length + 1;
  const kept = line.buffer[brace]!;
  line.buffer[brace] = CLOSING_BRACE;
  const digest = sha256(line.buffer.subarray(line.start, brace + 1));
  line.buffer[brace] = kept;
  return digest;
}

/** The checks of a line, in order. Each stands alone, so that a test can leave one out and see what it was for. */
export const CHECKS: readonly Check[] = [
  {
    name: 'form',
    says: 'it does not have the form of a record',
    holds: ({ tail, buffer, start }) =>
      buffer[start] === 0x7b &&
      tail.endsWith('"}') &&
      tail.startsWith(BEFORE_DIGEST, tail.length - DIGEST_AT - BEFORE_DIGEST.length) &&
      tail.startsWith(BEFORE_LINK, tail.length - NUMBER_END),
  },
  {
    name: 'number',
    says: 'its number does not follow',
    holds: ({ tail }, { n }) => {
      const number = `,"n":${n}`;
      return tail.startsWith(number, tail.length - NUMBER_END - number.length);
    },
  },
  {
    name: 'link',
    says: 'it does not name the digest of the record before it',
    holds: ({ tail }, { prev }) => tail.startsWith(prev, tail.length - LINK_AT),
  },
  {
    name: 'digest',
    says: 'its content does not agree with its digest',
    holds: (line) => digestIn(line) === digestOf(line),
  },
];

const [FORM, , , DIGEST] = CHECKS as [Check, Check, Check, Check];

/** Whether a line is a record by itself, wherever it may belong. */
export function verifiesAlone(line: Line): boolean {
  const nowhere = { n: 0, prev: '' };
  return FORM.holds(line, nowhere) && DIGEST.holds(line, nowhere);
}
