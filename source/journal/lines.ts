import { LINE_LIMIT_BYTES, NEWLINE } from './record.ts';
import type { JournalFiles } from './system.ts';

const BUFFER_BYTES = 4 * LINE_LIMIT_BYTES;

/**
 * Walks the lines of a file in one reused buffer, so that memory stays flat however long the file is.
 * After `next()` the line is `buffer[start..end)`, valid until the next call.
 */
export class LineReader {
  readonly buffer = Buffer.allocUnsafe(BUFFER_BYTES);
  start = 0;
  end = 0;
  /** False for a last line without a newline, and for one too long for any record. */
  ended = false;
  /** Where the line stands in the file. */
  offset = 0;
  /** The size of the file, once its end has been seen; another program may write on meanwhile. */
  size: number | null = null;
  #files: JournalFiles;
  #fd: number;
  #filled = 0;
  #next = 0;
  #nextOffset = 0;

  constructor(files: JournalFiles, fd: number) {
    this.#files = files;
    this.#fd = fd;
  }

  next(): boolean {
    this.offset = this.#nextOffset;
    let newline = this.#find(this.#next);
    while (newline < 0) {
      const searched = this.#filled - this.#next;
      if (searched > LINE_LIMIT_BYTES || !this.#fill()) {
        this.#take(this.#filled, 0);
        return this.end > this.start;
      }
      newline = this.#find(this.#next + searched);
    }
    this.#take(newline, 1);
    return true;
  }

  #take(end: number, newline: 0 | 1): void {
    this.start = this.#next;
    this.end = end;
    this.ended = newline === 1;
    this.#next = end + newline;
    this.#nextOffset += this.#next - this.start;
  }

  // Bytes past `filled` are left over from earlier reads.
  #find(from: number): number {
    const found = this.buffer.indexOf(NEWLINE, from);
    return found < this.#filled ? found : -1;
  }

  #fill(): boolean {
    this.buffer.copyWithin(0, this.#next, this.#filled);
    this.#filled -= this.#next;
    this.#next = 0;
    const position = this.#nextOffset + this.#filled;
    const count = this.#files.read(
      this.#fd,
      this.buffer,
      this.#filled,
      BUFFER_BYTES - this.#filled,
      position,
    );
    this.#filled += count;
    if (count === 0) this.size = position;
    return count > 0;
  }
}
