import type { JsonObject } from './canonical.ts';
import { clockJump, type Moment, momentOf, runsOn, stampOf } from './clock.ts';
import { codeOf, JournalError } from './error.ts';
import { noteSaved } from './last-saved.ts';
import type { PartWriter } from './part-writer.ts';
import { formatRecord, type JournalRecord } from './record.ts';
import { freeReserve, keepReserve } from './reserve.ts';
import type { Head } from './scan.ts';
import type { System } from './system.ts';

/** Where a chain stands for whoever goes on with it. */
export type Standing = {
  readonly head: Head;
  readonly lastRecord: JournalRecord | null;
  /** The clocks as the last record that tells of them has them. */
  readonly moment: Moment | null;
};

/** Writes the records of one chain into one part: numbers, links, clocks, and the reserve for a full disk. */
export class RecordWriter {
  readonly part: PartWriter;
  head: Head;
  lastRecord: JournalRecord | null;
  /** Whether room is kept back for a full disk; false once it had to be given up. */
  hasReserve: boolean;
  #dir: string;
  #system: System;
  #moment: Moment;
  #began: number;

  constructor(dir: string, system: System, part: PartWriter, standing: Standing) {
    this.part = part;
    this.head = standing.head;
    this.lastRecord = standing.lastRecord;
    this.hasReserve = keepReserve(system.files, dir);
    this.#dir = dir;
    this.#system = system;
    this.#moment = standing.moment ?? momentOf(system);
    this.#began = system.monotonicMilliseconds();
  }

  get standing(): Standing {
    return { head: this.head, lastRecord: this.lastRecord, moment: this.#moment };
  }

  save(kind: string, data: JsonObject): JournalRecord {
    return this.withRoom(() => this.#write(kind, data));
  }

  /** Does what takes room on the disk; where there is none, once more when the reserve has been given up. */
  withRoom<T>(work: () => T): T {
    try {
      return work();
    } catch (error) {
      if (!this.#giveUpReserve(error)) throw error;
      if (this.head.count > 0) this.#write('disk-full', stampOf(momentOf(this.#system)));
      return work();
    }
  }

  /** Saves a jump of the clock since it was last told of, if there was one. */
  noticeClock(): JournalRecord | null {
    if (runsOn(this.#moment, this.#system)) return null;
    const now = momentOf(this.#system);
    const jump = clockJump(this.#moment, now);
    const record = jump === null ? null : this.save('clock', jump);
    this.#moment = now;
    return record;
  }

  #write(kind: string, data: JsonObject): JournalRecord {
    const { bytes, record } = formatRecord({
      at: this.#system.now().toISOString(),
      data,
      kind,
      mono: Math.max(0, Math.round(this.#system.monotonicMilliseconds() - this.#began)),
      n: this.head.count,
      prev: this.head.digest,
    });
    this.part.append(bytes);
    this.head = { count: record.n + 1, digest: record.sha256 };
    this.lastRecord = record;
    noteSaved(this.#system.files, this.#dir, this.head);
    return record;
  }

  // More room does not help against a limit of the file's size.
  #giveUpReserve(error: unknown): boolean {
    const isFull = error instanceof JournalError && ['ENOSPC', 'EDQUOT'].includes(codeOf(error.cause));
    if (!isFull || !this.hasReserve) return false;
    this.hasReserve = false;
    return freeReserve(this.#system.files, this.#dir);
  }
}
