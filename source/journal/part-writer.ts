import { writeFully } from './disk.ts';
import { codeOf, diskError, JournalError } from './error.ts';
import type { Part } from './parts.ts';
import type { JournalFiles } from './system.ts';

const NOT_SAVED = 'NOT SAVED. This file takes no more records; continue the journal in another place';

/**
 * Appends to one file, one write and one fsync at a time, so that at most one record is ever unsynced.
 *
 * After a failed fsync the file is never used again: the system may have marked the lost pages as clean, so that
 * trying again would succeed and save nothing.
 */
export class PartWriter {
  readonly part: Part;
  #files: JournalFiles;
  #fd: number;
  #size: number;
  #dead: string | null = null;
  #onUnsaved: () => void;

  /** @param onUnsaved called once if the file is given up */
  constructor(files: JournalFiles, part: Part, fd: number, size: number, onUnsaved: () => void) {
    this.part = part;
    this.#files = files;
    this.#fd = fd;
    this.#size = size;
    this.#onUnsaved = onUnsaved;
  }

  get sizeBytes(): number {
    return this.#size;
  }

  get isDead(): boolean {
    return this.#dead !== null;
  }

  /** Durable when it returns. @throws JournalError `disk-full`, `io` (nothing is left of the record) or `not-saved` */
  append(bytes: Buffer): void {
    this.#verifyUntouched();
    try {
      writeFully(this.#files, this.#fd, bytes);
    } catch (error) {
      this.#undo(error);
      throw diskError('The record could not be written, and nothing of it is left', error);
    }
    this.#sync();
    this.#size += bytes.length;
  }

  /** A program that died here may not have come to its fsync. */
  sync(): void {
    this.#verifyAlive();
    this.#sync();
  }

  cut(size: number): void {
    this.#verifyAlive();
    try {
      this.#files.truncate(this.#fd, size);
    } catch (error) {
      throw diskError('The unfinished end of the journal could not be cut off', error);
    }
    this.#sync();
    this.#size = size;
  }

  close(): void {
    if (this.#fd < 0) return;
    const fd = this.#fd;
    this.#fd = -1;
    this.#dead ??= `${this.part.name} is closed. Open the journal again.`;
    this.#files.close(fd);
  }

  #undo(cause: unknown): void {
    try {
      this.#files.truncate(this.#fd, this.#size);
    } catch (error) {
      this.#die(`${NOT_SAVED} (undoing an unfinished write failed: ${codeOf(error)}).`, cause);
    }
    this.#sync();
  }

  #sync(): void {
    try {
      this.#files.fsync(this.#fd);
    } catch (error) {
      this.#die(`${NOT_SAVED} (the disk did not confirm: ${codeOf(error)}).`, error);
    }
  }

  #verifyUntouched(): void {
    this.#verifyAlive();
    let found: { size: number; nlink: number };
    try {
      found = this.#files.stat(this.#fd);
    } catch (error) {
      throw diskError('The journal cannot be examined', error);
    }
    if (found.nlink === 0) this.#die(`${NOT_SAVED} (the file was deleted).`, null);
    if (found.size !== this.#size)
      this.#die(
        `${NOT_SAVED} (another program changed the file: ${found.size} bytes, not ${this.#size}).`,
        null,
      );
  }

  #verifyAlive(): void {
    if (this.#dead !== null) throw new JournalError('not-saved', this.#dead);
  }

  #die(says: string, cause: unknown): never {
    this.#dead = says;
    this.#onUnsaved();
    throw new JournalError('not-saved', says, cause);
  }
}
