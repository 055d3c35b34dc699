import { CHECKS, type Check, digestIn, kindIn, type Line, setLine, verifiesAlone } from './checks.ts';
import { readFully } from './disk.ts';
import { LineReader } from './lines.ts';
import { type JournalRecord, LINE_LIMIT_BYTES, NEWLINE, parseRecord } from './record.ts';
import type { JournalFiles } from './system.ts';

/** Where a chain stands: how many records, and the digest of the last. */
export type Head = { readonly count: number; readonly digest: string };

/** What stands behind the good records: nothing, the end of a write that was cut off, or damage. */
export type Rest = 'none' | 'torn' | 'broken';

export type PartScan = {
  readonly head: Head;
  readonly goodBytes: number;
  /** Where the last good record begins. */
  readonly lastOffset: number;
  readonly sizeBytes: number;
  readonly rest: Rest;
  /** Whether the rest stops in the middle of a line. */
  readonly cutOff: boolean;
  /** What is wrong with the first line that is not good. */
  readonly says: string | null;
  /** Whether the last good record is a seal. */
  readonly sealed: boolean;
};

export type ScanOptions = {
  readonly checks?: readonly Check[];
  /** Parse every record as well; a line that does not parse is bad. */
  readonly full?: boolean;
  /** Records that a note of a seal beside the file speaks of: no line before may be taken for an unfinished write. */
  readonly sealedCount?: number;
};

const NO_END = 'it has no end';

/** Walks the good records of one file of a chain, from the head of the parts before it. */
export class PartCursor {
  head: Head;
  kind = '';
  /** The record at the head, where records are parsed. */
  record: JournalRecord | null = null;
  #files: JournalFiles;
  #fd: number;
  #options: ScanOptions;
  #until: number;
  #reader: LineReader;
  #line: Line;
  #expected: { n: number; prev: string };
  #goodBytes = 0;
  #lastOffset = 0;
  #sealed = false;
  #says: string | null = null;

  /** @param until stop after this many records of the chain: a later part takes over there */
  constructor(files: JournalFiles, fd: number, from: Head, options: ScanOptions, until: number) {
    this.#files = files;
    this.#fd = fd;
    this.#options = options;
    this.#until = until;
    this.head = from;
    this.#expected = { n: from.count, prev: from.digest };
    this.#reader = new LineReader(files, fd);
    this.#line = { buffer: this.#reader.buffer, start: 0, end: 0, tail: '' };
  }

  /** Goes on to the next record; false where there is no further good one. */
  next(): boolean {
    const reader = this.#reader;
    if (this.#says !== null || this.#expected.n >= this.#until || !reader.next()) return false;
    const line = setLine(this.#line, reader.start, reader.end);
    this.#says = reader.ended ? this.#faultOf(line) : NO_END;
    if (this.#says !== null) return false;
    this.kind = kindIn(line);
    this.#sealed = this.kind === 'seal';
    this.#lastOffset = reader.offset;
    this.#goodBytes = reader.offset + reader.end - reader.start + 1;
    this.#expected.n += 1;
    this.#expected.prev = digestIn(line);
    this.head = { count: this.#expected.n, digest: this.#expected.prev };
    return true;
  }

  /** What stands behind the good records, once `next()` has come to their end. */
  finish(): PartScan {
    const sizeBytes = this.#reader.size ?? this.#files.stat(this.#fd).size;
    const isSealed = this.#sealed || this.head.count < (this.#options.sealedCount ?? 0);
    const isWhole = sizeBytes === this.#goodBytes;
    return {
      head: this.head,
      goodBytes: this.#goodBytes,
      lastOffset: this.#lastOffset,
      sizeBytes,
      rest: isSealed && !isWhole ? 'broken' : restOf(this.#files, this.#fd, this.#goodBytes, sizeBytes),
      cutOff: this.#says === NO_END,
      says: this.#says,
      sealed: this.#sealed,
    };
  }

  #faultOf(line: Line): string | null {
    const { checks = CHECKS, full = false } = this.#options;
    for (const check of checks) if (!check.holds(line, this.#expected)) return check.says;
    if (this.#sealed) return 'it follows the seal';
    if (this.#expected.n === 0 && kindIn(line) !== 'open') return 'it does not open a journal';
    if (!full) return null;
    this.record = parseRecord(line.buffer.subarray(line.start, line.end));
    return this.record === null ? 'it is no record of this format' : null;
  }
}

// A line of one record, then any byte where the newline should be, then the start of another.
const TWO_RECORDS = /"sha256":"[^"]{64}"\}[\s\S]\{"at":"/;
const SECOND_RECORD = '\n{"at":"';

/**
 * At most one record is ever on its way to the disk, so an unfinished write leaves less than two lines and none
 * that verifies. Anything else was damaged or altered later.
 */
export function restOf(files: JournalFiles, fd: number, from: number, size: number): Rest {
  const length = size - from;
  if (length === 0) return 'none';
  if (length > LINE_LIMIT_BYTES) return 'broken';
  const buffer = readFully(files, fd, from, length);
  const text = buffer.toString('latin1');
  if (text.includes(SECOND_RECORD) || TWO_RECORDS.test(text)) return 'broken';
  const line: Line = { buffer, start: 0, end: 0, tail: '' };
  // A last line that verifies but lacks its newline was never finished.
  for (let start = 0; start < length; start = line.end + 1) {
    const newline = buffer.indexOf(NEWLINE, start);
    if (newline < 0) break;
    if (verifiesAlone(setLine(line, start, newline))) return 'broken';
  }
  return 'torn';
}
