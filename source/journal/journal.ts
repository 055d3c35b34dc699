import type { JsonObject } from './canonical.ts';
import { START } from './chain.ts';
import { clockJump, type Moment, momentOf, stampOf } from './clock.ts';
import { closeForWriting, copyJournal } from './continuation.ts';
import { syncFolder } from './disk.ts';
import { codeOf, diskError, JournalError } from './error.ts';
import { deleteJobKey, type JobKey, makeJobKey, readJobKey, writeJobKey } from './job-key.ts';
import { Lock } from './lock.ts';
import { locked, openWriter, verifyEnd, type Walked, walk } from './opening.ts';
import { PartWriter } from './part-writer.ts';
import { type Part, partOf, partsIn } from './parts.ts';
import { readRecords } from './read.ts';
import { FORMAT, formatRecord, type JournalRecord } from './record.ts';
import { cutTornEnd, setAsideHeadless, unrecordedRepairs } from './recovery.ts';
import { freeReserve, keepReserve } from './reserve.ts';
import type { Head } from './scan.ts';
import { readSeal, writeSeal } from './seal-note.ts';
import type { System } from './system.ts';

/** Kinds that only the journal itself writes. */
const OWN_KINDS: ReadonlySet<string> = new Set([
  'open',
  'clock',
  'repair',
  'disk-full',
  'seal',
  'checkpoint',
]);

type Opened = {
  readonly job: string;
  readonly part: Part;
  readonly writer: PartWriter | null;
  readonly head: Head;
  readonly lastRecord: JournalRecord | null;
  readonly moment: Moment | null;
  readonly key: JobKey | null;
};

/**
 * An append-only chain of records in a folder, written by one program at a time. A record that `append` has
 * returned is on the disk.
 */
export class Journal {
  readonly dir: string;
  /** The id in its first record. */
  readonly job: string;
  /** Told of every `clock` record, before the record that found it out. */
  onClock: ((record: JournalRecord) => void) | null = null;
  #system: System;
  #lock: Lock;
  #part: Part;
  #writer: PartWriter | null;
  #head: Head;
  #lastRecord: JournalRecord | null;
  #moment: Moment;
  #began: number;
  #key: JobKey | null;
  #hasReserve: boolean;

  private constructor(dir: string, system: System, lock: Lock, opened: Opened) {
    this.dir = dir;
    this.job = opened.job;
    this.#system = system;
    this.#lock = lock;
    this.#part = opened.part;
    this.#writer = opened.writer;
    this.#head = opened.head;
    this.#lastRecord = opened.lastRecord;
    this.#moment = opened.moment ?? momentOf(system);
    this.#began = system.monotonicMilliseconds();
    this.#key = opened.key;
    this.#hasReserve = opened.writer !== null && keepReserve(system.files, dir);
  }

  /**
   * Makes a journal with its first record, of kind `open`. The journal adds format, nonce, public key and clocks.
   *
   * @throws JournalError `exists` where there is one, `locked`, `disk-full`, `io`
   */
  static create(dir: string, open: JsonObject & { readonly job: string }, system: System): Journal {
    const { files } = system;
    return locked(dir, system, (lock) => {
      setAsideHeadless(files, dir);
      if (partsIn(files, dir).length > 0)
        throw new JournalError('exists', `${dir} holds a journal already. Open it, or give another folder.`);
      const key = makeJobKey();
      writeJobKey(files, dir, key);
      const part = partOf(dir, 1);
      const writer = new PartWriter(files, part, files.open(part.path, 'create'), 0);
      const journal = new Journal(dir, system, lock, {
        job: open.job,
        part,
        writer,
        head: START,
        lastRecord: null,
        moment: null,
        key,
      });
      journal.#save('open', {
        ...open,
        ...stampOf(momentOf(system)),
        format: FORMAT,
        nonce: Buffer.from(system.random(16)).toString('hex'),
        publicKey: key.publicBytes.toString('base64'),
      });
      syncFolder(files, dir);
      journal.#recordRepairs(new Set());
      return journal;
    });
  }

  /**
   * Takes the journal in a folder: locks it, mends an unfinished write at its end and records that. `replay` sees
   * every record on the way, in order.
   *
   * @throws JournalError `missing`, `locked`, `broken` (never to be written to again; see `continueBroken`), `io`
   */
  static open(dir: string, system: System, replay?: (record: JournalRecord) => void): Journal {
    const { files } = system;
    if (partsIn(files, dir).length === 0)
      throw new JournalError('missing', `${dir} holds no journal. Give the folder of a job.`);
    return locked(dir, system, (lock) => {
      setAsideHeadless(files, dir);
      const found = walk(dir, system, replay);
      verifyEnd(files, found.scan);
      return Journal.#openAt(dir, system, lock, found);
    });
  }

  static #openAt(dir: string, system: System, lock: Lock, found: Walked): Journal {
    const { files } = system;
    const { part, scan } = found.scan.parts.at(-1)!;
    const isSealed = scan.sealed;
    const writer = isSealed ? null : openWriter(system, part, scan.sizeBytes);
    const key = readJobKey(files, dir);
    if (writer !== null && scan.rest === 'torn') cutTornEnd(files, dir, writer, scan.goodBytes);
    else writer?.sync();
    const journal = new Journal(dir, system, lock, {
      job: found.job,
      part,
      writer,
      head: found.scan.head,
      lastRecord: found.last,
      moment: found.moment,
      key,
    });
    if (isSealed) journal.#finishSeal();
    else journal.#recordRepairs(found.kept);
    return journal;
  }

  get head(): Head {
    return this.#head;
  }

  get lastRecord(): JournalRecord | null {
    return this.#lastRecord;
  }

  /** Whether the last part is sealed: then only a continuation takes records. */
  get isSealed(): boolean {
    return this.#writer === null;
  }

  /** False after a failed fsync: what was not acknowledged must go into a continuation. */
  get isWritable(): boolean {
    return this.#writer !== null && !this.#writer.isDead;
  }

  /** Whether room is kept back for a full disk; false once it had to be given up. */
  get hasReserve(): boolean {
    return this.#hasReserve;
  }

  /** What a record of a sitting carries so that a later program can compare clocks. */
  stamp(): { readonly boot: string; readonly uptime: number } {
    return stampOf(momentOf(this.#system));
  }

  /**
   * Saves a record; it is on the disk when this returns. Where the clock jumped, a `clock` record goes first.
   *
   * @throws JournalError `disk-full` or `io` (nothing of it is left, try again), `not-saved` (this file takes no
   *   more), `sealed`, `too-large`; TypeError for data that no record may carry
   */
  append(kind: string, data: JsonObject): JournalRecord {
    if (OWN_KINDS.has(kind)) throw new TypeError(`Records of kind "${kind}" are the journal's own.`);
    this.noticeClock();
    return this.#save(kind, data);
  }

  /** Records a jump of the clock since the last record, if there was one. */
  noticeClock(): JournalRecord | null {
    const now = momentOf(this.#system);
    const jump = clockJump(this.#moment, now);
    if (jump === null) {
      this.#moment = now;
      return null;
    }
    const record = this.#save('clock', jump);
    this.#moment = now;
    this.onClock?.(record);
    return record;
  }

  /** A record whose head is handed out at a milestone: whoever holds it can tell later whether the part up to it stands. */
  checkpoint(data: JsonObject): Head {
    this.noticeClock();
    this.#save('checkpoint', data);
    return this.#head;
  }

  /** The records, streamed from the disk. */
  records(): Iterable<JournalRecord> {
    return readRecords(this.dir, this.#system.files);
  }

  /** Ends the journal. Its head is what the customer keeps: only with it can the record be proved unaltered. */
  seal(data: JsonObject): { readonly head: Head } {
    if (readSeal(this.#system.files, this.dir) !== null)
      throw new JournalError('sealed', 'This journal is sealed already. Add notes in a continuation.');
    this.noticeClock();
    this.#save('seal', { ...data, count: this.#head.count + 1 });
    this.#finishSeal();
    return { head: this.#head };
  }

  /** Everything after the seal record; done again on opening if a program died over it. */
  #finishSeal(): void {
    const { files } = this.#system;
    if (readSeal(files, this.dir) === null && this.#key !== null)
      writeSeal(files, this.dir, this.job, this.#head, this.#key);
    this.#writer?.makeReadOnly();
    this.#writer?.close();
    this.#writer = null;
    deleteJobKey(files, this.dir);
    freeReserve(files, this.dir);
    this.#key = null;
    this.#hasReserve = false;
  }

  /**
   * Goes on in a new part that is linked to the last record saved: notes after the seal, or another place after
   * NOT SAVED. In another folder the records so far are copied first, so that it is a journal by itself. This
   * object is closed.
   *
   * @throws JournalError `exists`, `locked`, `disk-full`, `io`; then this journal stays as it is
   */
  continueIn(dir: string = this.dir): Journal {
    const { files } = this.#system;
    const isElsewhere = dir !== this.dir;
    const lock = isElsewhere ? Lock.acquire(dir, this.#system) : this.#lock;
    try {
      if (isElsewhere) copyJournal(files, this.dir, dir, this.#part, this.#head);
      const journal = Journal.#createPart(dir, this.#system, lock, this.#part.number + 1, this.#opened());
      this.#writer?.close();
      if (isElsewhere) {
        closeForWriting(files, this.#part);
        this.#lock.release();
      }
      return journal;
    } catch (error) {
      if (isElsewhere) lock.release();
      throw diskError(`${dir} cannot take the continuation`, error);
    }
  }

  /** Goes on beside, or away from, a journal that is damaged: after the last record that is good. */
  static continueBroken(dir: string, into: string, system: System): Journal {
    return locked(dir, system, (lock) => {
      const found = walk(dir, system);
      const { part } = found.scan.parts.at(-1)!;
      const opened = {
        ...found,
        part,
        writer: null,
        head: found.scan.head,
        lastRecord: found.last,
        key: readJobKey(system.files, dir),
      };
      return new Journal(dir, system, lock, opened).continueIn(into);
    });
  }

  static #createPart(dir: string, system: System, lock: Lock, number: number, before: Opened): Journal {
    const { files } = system;
    const part = partOf(dir, number);
    const writer = new PartWriter(files, part, files.open(part.path, 'create'), 0);
    const journal = new Journal(dir, system, lock, { ...before, part, writer });
    const { count, digest } = before.head;
    journal.#save('open', {
      ...journal.stamp(),
      continues: { file: before.part.name, n: count - 1, sha256: digest },
      format: FORMAT,
      job: before.job,
    });
    syncFolder(files, dir);
    return journal;
  }

  #opened(): Opened {
    return {
      job: this.job,
      part: this.#part,
      writer: this.#writer,
      head: this.#head,
      lastRecord: this.#lastRecord,
      moment: this.#moment,
      key: this.#key,
    };
  }

  /** Gives the journal free for others. */
  close(): void {
    this.#writer?.close();
    this.#lock.release();
  }

  #recordRepairs(recorded: ReadonlySet<string>): void {
    const offset = this.#writer?.sizeBytes ?? 0;
    for (const repair of unrecordedRepairs(this.#system.files, this.dir, recorded))
      this.#save('repair', { ...this.stamp(), ...repair, offset });
  }

  #save(kind: string, data: JsonObject): JournalRecord {
    if (this.#writer === null)
      throw new JournalError('sealed', 'This journal is sealed. Add notes in a continuation.');
    const format = () =>
      formatRecord({
        at: this.#system.now().toISOString(),
        data,
        kind,
        mono: Math.max(0, Math.round(this.#system.monotonicMilliseconds() - this.#began)),
        n: this.#head.count,
        prev: this.#head.digest,
      });
    let { bytes, record } = format();
    try {
      this.#writer.append(bytes);
    } catch (error) {
      if (!this.#giveUpReserve(error)) throw error;
      ({ bytes, record } = format());
      this.#writer.append(bytes);
    }
    this.#head = { count: record.n + 1, digest: record.sha256 };
    this.#lastRecord = record;
    return record;
  }

  #giveUpReserve(error: unknown): boolean {
    const isFull = error instanceof JournalError && ['ENOSPC', 'EDQUOT'].includes(codeOf(error.cause));
    if (!isFull || !this.#hasReserve) return false;
    this.#hasReserve = false;
    if (!freeReserve(this.#system.files, this.dir)) return false;
    this.#save('disk-full', this.stamp());
    return true;
  }
}
