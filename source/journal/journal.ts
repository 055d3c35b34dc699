import type { JsonObject } from './canonical.ts';
import { START } from './chain.ts';
import { momentOf, stampOf } from './clock.ts';
import { closeForWriting, copyJournal } from './continuation.ts';
import { syncFolder } from './disk.ts';
import { diskError, JournalError } from './error.ts';
import { deleteJobKey, makeJobKey, readJobKey, writeJobKey } from './job-key.ts';
import type { Lock } from './lock.ts';
import { inFolder, locked, openWriter, verifyEnd, walk } from './opening.ts';
import { PartWriter } from './part-writer.ts';
import { type Part, partOf, partsIn } from './parts.ts';
import { readRecords } from './read.ts';
import { FORMAT, type JournalRecord } from './record.ts';
import { RecordWriter, type Standing } from './record-writer.ts';
import { setAsideHeadless, unrecordedRepairs } from './recovery.ts';
import { freeReserve } from './reserve.ts';
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

const SEALED = 'This journal is sealed. Add notes in a continuation.';

/**
 * An append-only chain of records in a folder, written by one program at a time. A record that `append` has
 * returned is on the disk.
 */
export class Journal {
  readonly dir: string;
  /** The id in its first record. */
  readonly job: string;
  /** Told of every `clock` record, before the record that found it out is saved. */
  onClock: ((record: JournalRecord) => void) | null = null;
  #system: System;
  #lock: Lock;
  #part: Part;
  /** Null once the part is sealed. */
  #writer: RecordWriter | null;
  #standing: Standing;

  private constructor(dir: string, system: System, lock: Lock, part: Part, job: string, standing: Standing) {
    this.dir = dir;
    this.job = job;
    this.#system = system;
    this.#lock = lock;
    this.#part = part;
    this.#writer = null;
    this.#standing = standing;
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
      const standing = { head: START, lastRecord: null, moment: null };
      const journal = new Journal(dir, system, lock, partOf(dir, 1), open.job, standing);
      journal.#begin({
        ...open,
        nonce: Buffer.from(system.random(16)).toString('hex'),
        publicKey: key.publicBytes.toString('base64'),
      });
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
      const { part, scan } = found.scan.parts.at(-1)!;
      const journal = new Journal(dir, system, lock, part, found.job, found.standing);
      if (scan.sealed) {
        // Without its note the seal itself may be unsaved.
        if (readSeal(files, dir) === null) openWriter(dir, system, lock, part, scan).close();
        journal.#finishSeal();
        return journal;
      }
      const writer = openWriter(dir, system, lock, part, scan);
      journal.#writer = new RecordWriter(dir, system, writer, found.standing);
      journal.#recordRepairs(found.kept);
      return journal;
    });
  }

  /**
   * Goes on beside, or away from, a journal that is damaged: after the last record that is good.
   *
   * @throws JournalError `broken` where no record is good, `locked`, `exists`, `disk-full`, `io`
   */
  static continueBroken(dir: string, into: string, system: System): Journal {
    return locked(dir, system, (lock) => {
      const found = walk(dir, system);
      if (found.scan.head.count === 0)
        throw new JournalError('broken', `${dir} holds no good record to go on from. Start the job again.`);
      const { part } = found.scan.parts.at(-1)!;
      return new Journal(dir, system, lock, part, found.job, found.standing).continueIn(into);
    });
  }

  get head(): Head {
    return this.#now.head;
  }

  get lastRecord(): JournalRecord | null {
    return this.#now.lastRecord;
  }

  /** Whether the last part is sealed: then only a continuation takes records. */
  get isSealed(): boolean {
    return this.#writer === null;
  }

  /** False once sealed, and after a failed fsync: what was not acknowledged must go into a continuation. */
  get isWritable(): boolean {
    return this.#writer !== null && !this.#writer.part.isDead;
  }

  /** Whether room is kept back for a full disk; false once it had to be given up, or where there is none. */
  get hasReserve(): boolean {
    return this.#writer?.hasReserve ?? false;
  }

  /** What a record of a sitting carries so that a later program can compare clocks. */
  stamp(): { readonly boot: string; readonly uptime: number } {
    return stampOf(momentOf(this.#system));
  }

  /**
   * Saves a record; it is on the disk when this returns. Where the clock jumped, a `clock` record goes first; where
   * the disk is full, the reserve is given up and a `disk-full` record goes first.
   *
   * @throws JournalError `disk-full` or `io` (nothing of it is left, try again), `not-saved` (this file takes no
   *   more), `sealed`, `too-large`; TypeError for data that no record may carry
   */
  append(kind: string, data: JsonObject): JournalRecord {
    if (OWN_KINDS.has(kind)) throw new TypeError(`Records of kind "${kind}" are the journal's own.`);
    this.noticeClock();
    return this.#open.save(kind, data);
  }

  /** Saves a jump of the clock since the last record, if there was one. */
  noticeClock(): JournalRecord | null {
    const record = this.#open.noticeClock();
    if (record !== null) this.onClock?.(record);
    return record;
  }

  /** A record whose head is handed out at a milestone: whoever holds it can tell later whether all up to it stands. */
  checkpoint(data: JsonObject): Head {
    this.noticeClock();
    this.#open.save('checkpoint', data);
    return this.head;
  }

  /** The records, streamed from the disk. */
  records(): Iterable<JournalRecord> {
    return readRecords(this.dir, this.#system.files);
  }

  /**
   * Ends the journal. Its head is what the customer keeps: only with it can the record be proved unaltered. Once the
   * seal is saved the journal is sealed; if the signed note beside it could not be made, `warning` says so, and
   * opening the journal again makes it.
   */
  seal(data: JsonObject): { readonly head: Head; readonly warning: string | null } {
    this.noticeClock();
    if (this.#hasSealNote()) throw new JournalError('sealed', SEALED);
    this.#open.save('seal', { ...data, count: this.head.count + 1 });
    try {
      this.#finishSeal();
      return { head: this.head, warning: null };
    } catch (error) {
      const { message } = diskError('The job is sealed, but the note of the seal is not written yet', error);
      return { head: this.head, warning: message };
    }
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
    const part = partOf(dir, this.#part.number + 1);
    const goOn = (lock: Lock) => {
      setAsideHeadless(files, dir);
      const journal = new Journal(dir, this.#system, lock, part, this.job, this.#now);
      const { count, digest } = this.head;
      journal.#begin({ continues: { file: this.#part.name, n: count - 1, sha256: digest }, job: this.job });
      this.#writer?.part.close();
      return journal;
    };
    if (dir === this.dir) return inFolder(dir, () => goOn(this.#lock));
    return locked(dir, this.#system, (lock) => {
      copyJournal(files, this.dir, dir, this.#part, this.head);
      const journal = goOn(lock);
      closeForWriting(files, this.#part);
      this.#lock.release();
      return journal;
    });
  }

  /** Gives the journal free for others. */
  close(): void {
    this.#writer?.part.close();
    this.#lock.release();
  }

  #hasSealNote(): boolean {
    return inFolder(this.dir, () => readSeal(this.#system.files, this.dir) !== null);
  }

  get #now(): Standing {
    return this.#writer?.standing ?? this.#standing;
  }

  get #open(): RecordWriter {
    if (this.#writer === null) throw new JournalError('sealed', SEALED);
    return this.#writer;
  }

  /** Makes the file of a part and its first record; file and name are durable when this returns. */
  #begin(data: JsonObject): void {
    const { files } = this.#system;
    const fd = files.open(this.#part.path, 'create');
    const writer = new PartWriter(files, this.#part, fd, 0, () => this.#lock.markUnsaved());
    this.#writer = new RecordWriter(this.dir, this.#system, writer, this.#standing);
    this.#writer.save('open', { ...data, ...this.stamp(), format: FORMAT });
    syncFolder(files, this.dir);
    this.#lock.clearUnsaved();
  }

  #recordRepairs(recorded: ReadonlySet<string>): void {
    const offset = this.#open.part.sizeBytes;
    for (const repair of unrecordedRepairs(this.#system.files, this.dir, recorded))
      this.#open.save('repair', { ...this.stamp(), ...repair, offset });
  }

  /** Everything after the seal record; done again on opening if a program died over it. */
  #finishSeal(): void {
    const { files } = this.#system;
    this.#standing = this.#now;
    this.#writer?.part.close();
    this.#writer = null;
    freeReserve(files, this.dir);
    const key = readJobKey(files, this.dir);
    if (readSeal(files, this.dir) === null && key !== null)
      writeSeal(files, this.dir, this.job, this.head, key);
    closeForWriting(files, this.#part);
    deleteJobKey(files, this.dir);
  }
}
