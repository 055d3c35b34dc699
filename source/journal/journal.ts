import type { JsonObject } from './canonical.ts';
import { START } from './chain.ts';
import { momentOf, stampOf } from './clock.ts';
import { closeForWriting, copyJournal } from './continuation.ts';
import { syncFolder } from './disk.ts';
import { diskError, JournalError } from './error.ts';
import { deleteJobKey, makeJobKey, readJobKey, writeJobKey } from './job-key.ts';
import { forgetSaved } from './last-saved.ts';
import { Lock } from './lock.ts';
import { inFolder, locked, openWriter, verifyEnd, verifyGood, walk } from './opening.ts';
import { PartWriter } from './part-writer.ts';
import { type Part, partOf, partsIn } from './parts.ts';
import { readRecords } from './read.ts';
import { FORMAT, type JournalRecord } from './record.ts';
import { RecordWriter, type Standing } from './record-writer.ts';
import { setAsideHeadless, unrecordedRepairs } from './recovery.ts';
import { freeReserve } from './reserve.ts';
import type { Head } from './scan.ts';
import { hasSeal, writeSeal } from './seal-note.ts';
import type { System } from './system.ts';
import { isPartThere, movedError, readWentOn } from './went-on.ts';

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
      const wentOn = readWentOn(files, dir);
      if (wentOn !== null) throw movedError(wentOn, isPartThere(files, wentOn.into, wentOn));
      setAsideHeadless(files, dir);
      const found = walk(dir, system, replay);
      verifyEnd(system, dir, found);
      const { part, scan } = found.scan.parts.at(-1)!;
      const journal = new Journal(dir, system, lock, part, found.job, found.standing);
      if (scan.sealed) {
        // Without its note the seal itself may be unsaved.
        if (!hasSeal(files, dir)) openWriter(dir, system, lock, part, scan).close();
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
   * Goes on in a new part beside one that is damaged: after the last record that is good.
   *
   * @throws JournalError `broken` where no record is good, `locked`, `moved`, `disk-full`, `io`
   */
  static continueBroken(dir: string, system: System): Journal {
    return locked(dir, system, (lock) => {
      const found = walk(dir, system);
      verifyGood(dir, found.scan);
      const { part } = found.scan.parts.at(-1)!;
      return new Journal(dir, system, lock, part, found.job, found.standing).continueIn();
    });
  }

  /**
   * Takes a journal for going on in another folder with every record that is good. Nothing is written to it: its disk
   * may be failing, full or read-only.
   *
   * @throws JournalError `missing`, `broken` where no record is good, `locked`, `newer`, `sealed`, `io`
   */
  static takeAway(dir: string, system: System, replay?: (record: JournalRecord) => void): Journal {
    const lock = Lock.acquireIfTaken(dir, system);
    try {
      return inFolder(dir, () => {
        const found = walk(dir, system, replay);
        verifyGood(dir, found.scan);
        const { part, scan } = found.scan.parts.at(-1)!;
        if (scan.sealed && scan.rest === 'none')
          throw new JournalError('sealed', `${dir} is closed and sealed. Only notes may follow, in place.`);
        return new Journal(dir, system, lock, part, found.job, found.standing);
      });
    } catch (error) {
      lock.release();
      throw error;
    }
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

  /** Does what must be written beside the record before it: a full disk gives up the reserve for that too. */
  withRoom<T>(work: () => T): T {
    return this.#open.withRoom(work);
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
   * Goes on in a new part beside it that is linked to the last record saved: notes after the seal. This object is
   * closed.
   *
   * @throws JournalError `disk-full`, `io`; then this journal stays as it is
   */
  continueIn(): Journal {
    const { files } = this.#system;
    return inFolder(this.dir, () => {
      setAsideHeadless(files, this.dir);
      const journal = this.#following(this.dir, this.#lock);
      journal.#begin({ continues: this.#link, job: this.job });
      this.#writer?.part.close();
      return journal;
    });
  }

  /**
   * Makes a journal by itself in another folder: the records so far, and a part that goes on from the last one saved.
   * This journal stays as it is.
   *
   * @throws JournalError `disk-full`, `io`
   */
  copyOnward(to: string): { readonly part: string; readonly first: JournalRecord } {
    const { files } = this.#system;
    return inFolder(to, () => {
      copyJournal(files, this.dir, to, this.#part, this.head);
      return locked(to, this.#system, (lock) => {
        const journal = this.#following(to, lock);
        // Where the key is gone, what follows is signed by another one, and it is said so.
        const key = readJobKey(files, to) ?? makeJobKey();
        const isNew = readJobKey(files, to) === null;
        if (isNew) writeJobKey(files, to, key);
        const publicKey = isNew ? { publicKey: key.publicBytes.toString('base64') } : {};
        journal.#begin({ continues: this.#link, job: this.job, ...publicKey });
        const { lastRecord: first } = journal;
        journal.close();
        return { part: journal.#part.name, first: first! };
      });
    });
  }

  /** Gives the journal free for others. */
  close(): void {
    this.#writer?.part.close();
    this.#lock.release();
  }

  get #link() {
    const { count, digest } = this.head;
    return { file: this.#part.name, n: count - 1, sha256: digest };
  }

  #following(dir: string, lock: Lock): Journal {
    return new Journal(dir, this.#system, lock, partOf(dir, this.#part.number + 1), this.job, this.#now);
  }

  #hasSealNote(): boolean {
    return inFolder(this.dir, () => hasSeal(this.#system.files, this.dir));
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
    if (!hasSeal(files, this.dir) && key !== null) writeSeal(files, this.dir, this.job, this.head, key);
    closeForWriting(files, this.#part);
    // What cannot sign is kept, so that it does not look as if it had signed.
    if (hasSeal(files, this.dir)) deleteJobKey(files, this.dir);
    forgetSaved(files, this.dir);
  }
}
