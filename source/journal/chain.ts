import { readFully, withFile } from './disk.ts';
import { LineReader } from './lines.ts';
import type { Part } from './parts.ts';
import { type JournalRecord, LINE_LIMIT_BYTES, NEWLINE, NO_DIGEST, parseRecord } from './record.ts';
import { type Head, PartCursor, type PartScan, type ScanOptions } from './scan.ts';
import type { JournalFiles } from './system.ts';

/** A place in a chain that is not good, and why. */
export type Fault = {
  readonly n: number;
  readonly file: string;
  readonly offset: number;
  readonly says: string;
};

export type ChainScan = {
  readonly head: Head;
  readonly parts: readonly { readonly part: Part; readonly scan: PartScan }[];
  /** The head at the seal, wherever notes follow it. */
  readonly seal: Head | null;
  /** The first damage; an unfinished write at the end is no damage. */
  readonly fault: Fault | null;
};

export const START: Head = { count: 0, digest: NO_DIGEST };

/**
 * Walks all parts of a journal as one chain: numbers and links run on from part to part.
 *
 * A part that takes over goes on, in its first record, from the last record that was saved before it. One record
 * more may stand in the earlier part, written but never acknowledged; it does not count.
 */
export class ChainCursor {
  head: Head;
  #files: JournalFiles;
  #parts: readonly Part[];
  #options: ScanOptions;
  #scans: { part: Part; scan: PartScan }[] = [];
  #seal: Head | null = null;
  #fault: Fault | null = null;
  #fd = -1;
  #cursor: PartCursor | null = null;

  constructor(files: JournalFiles, parts: readonly Part[], options: ScanOptions = {}, from: Head = START) {
    this.#files = files;
    this.#parts = parts;
    this.#options = options;
    this.head = from;
  }

  /** The kind of the record at the head. */
  get kind(): string {
    return this.#cursor?.kind ?? '';
  }

  /** The record at the head, where the walk is a full one. */
  get record(): JournalRecord | null {
    return this.#cursor?.record ?? null;
  }

  next(): boolean {
    for (;;) {
      this.#cursor ??= this.#openPart();
      if (this.#cursor === null) return false;
      if (this.#cursor.next()) {
        this.head = this.#cursor.head;
        return true;
      }
      this.#closePart(this.#cursor);
    }
  }

  /** What was found, once `next()` has come to the end. */
  finish(): ChainScan {
    return { head: this.head, parts: this.#scans, seal: this.#seal, fault: this.#fault };
  }

  close(): void {
    if (this.#fd >= 0) this.#files.close(this.#fd);
    this.#fd = -1;
  }

  #openPart(): PartCursor | null {
    const part = this.#parts[this.#scans.length];
    if (part === undefined) return null;
    this.#fd = this.#files.open(part.path, 'read');
    return new PartCursor(this.#files, this.#fd, this.head, this.#options, this.#takeOver() ?? Infinity);
  }

  /** The number with which the next part goes on; null without one. */
  #takeOver(): number | null {
    const following = this.#parts[this.#scans.length + 1];
    return following === undefined ? null : (firstRecordOf(this.#files, following)?.n ?? null);
  }

  #closePart(cursor: PartCursor): void {
    const part = this.#parts[this.#scans.length]!;
    const isLast = this.#scans.length === this.#parts.length - 1;
    const found = cursor.finish();
    const isTakenOver = this.#takeOver() === found.head.count && this.#isUnsavedRecord(found);
    const scan: PartScan = isTakenOver ? { ...found, rest: 'none' } : found;
    if (scan.rest === 'broken' || (scan.rest === 'torn' && !isLast))
      this.#fault ??= {
        n: this.head.count,
        file: part.name,
        offset: scan.goodBytes,
        says: scan.says ?? 'more follows than the part that takes over allows for',
      };
    if (scan.sealed) this.#seal = this.head;
    this.#scans.push({ part, scan });
    this.#cursor = null;
    this.close();
  }

  #isUnsavedRecord(scan: PartScan): boolean {
    if (scan.rest === 'torn') return true;
    const length = scan.sizeBytes - scan.goodBytes;
    if (scan.sealed || length > LINE_LIMIT_BYTES) return false;
    return readFully(this.#files, this.#fd, scan.goodBytes, length).indexOf(NEWLINE) === length - 1;
  }
}

/** Walks a whole chain; `each` sees every good head and, in a full walk, its record. */
export function scanChain(
  files: JournalFiles,
  parts: readonly Part[],
  options: ScanOptions = {},
  each?: (cursor: ChainCursor) => void,
  from?: Head,
): ChainScan {
  const cursor = new ChainCursor(files, parts, options, from);
  try {
    while (cursor.next()) each?.(cursor);
    return cursor.finish();
  } finally {
    cursor.close();
  }
}

/** The first record of a part, or null if it has none that can be read. */
export function firstRecordOf(files: JournalFiles, part: Part): JournalRecord | null {
  return withFile(files, part.path, 'read', (fd) => {
    const reader = new LineReader(files, fd);
    return reader.next() && reader.ended
      ? parseRecord(reader.buffer.subarray(reader.start, reader.end))
      : null;
  });
}
