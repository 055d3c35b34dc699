import type { JsonObject } from '../journal/canonical.ts';
import { formatHead } from '../journal/head.ts';
import type { Journal } from '../journal/journal.ts';
import { writeLedger } from '../journal/ledger.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { System } from '../journal/system.ts';
import type { JobEvent, JobState } from '../procedure/state.ts';
import { tidyAttachments } from './attachments.ts';
import { tidyPrivate } from './private.ts';
import type { Replay } from './replay.ts';
import type { Break } from './sitting.ts';
import { JobView } from './view.ts';

/** Where the ledger of jobs is kept, asked for when a job is opened or sealed. */
export type Ledger = (() => string) | undefined;

/** Keys in the screens leave a trace at most this often. */
const HERE_EVERY_MILLISECONDS = 5 * 60 * 1000;

/** How a job stood before this program took it up. */
type Before = {
  /** When the last record was written; null where there was none. */
  readonly lastAt: string | null;
  readonly person: string | null;
  readonly sitting: JobState['context']['sitting'];
};

/** A job whose journal this program holds: appending, sittings, the seal. */
export class HeldJob extends JobView {
  protected readonly system: System;
  protected readonly sitting: 'screens' | 'act';
  protected readonly ledger: Ledger;
  protected journal: Journal;
  /** How it stood before a sitting began with its opening. */
  readonly before: Before;
  #hereAt = 0;
  #ledgerTrouble: string | null = null;

  constructor(journal: Journal, replay: Replay, system: System, sitting: 'screens' | 'act', ledger: Ledger) {
    super(journal.dir, replay);
    this.journal = journal;
    this.system = system;
    this.sitting = sitting;
    this.ledger = ledger;
    const { person, sitting: lastSitting } = replay.state.context;
    this.before = { lastAt: replay.lastRecord?.at ?? null, person, sitting: lastSitting };
    this.goOnIn(journal);
  }

  /** Count and digest of the record so far. */
  get head(): { readonly count: number; readonly digest: string } {
    return this.journal.head;
  }

  /** Says that somebody is at the keys. Call it at every key; it records at most one every five minutes. */
  here(): void {
    if (this.closed || this.sitting !== 'screens') return;
    const broken = this.breakNow('screens', null, this.system);
    if (broken) {
      this.begin(broken);
      return;
    }
    const last = Math.max(this.#hereAt, Date.parse(this.lastRecord?.at ?? '') || 0);
    const now = this.system.now().getTime();
    if (now - last < HERE_EVERY_MILLISECONDS) return;
    this.#hereAt = now;
    this.append('here', {});
  }

  /** Enters the job in the ledger, unless it is a rehearsal. A ledger that cannot be kept stops no work. */
  enterLedger(kind: 'opened' | 'sealed'): void {
    if (this.rehearsal !== null || !this.ledger) return;
    this.#ledgerTrouble = writeLedger(this.ledger(), kind, this.id, this.head, this.system);
  }

  /** Why the ledger could not be kept the last time, or null. */
  get ledgerTrouble(): string | null {
    return this.#ledgerTrouble;
  }

  /** False after NOT SAVED: then only another folder takes records. A sealed job takes notes. */
  get isWritable(): boolean {
    return this.journal.isSealed || this.journal.isWritable;
  }

  /** Gives the job free for others. */
  close(): void {
    this.journal.close();
  }

  /** Appended durably, then applied: what is not on the disk is not in force. */
  protected append(kind: string, data: JsonObject): JournalRecord {
    const record = this.journal.append(kind, { ...data, ...this.journal.stamp() });
    this.replay.take(record);
    return record;
  }

  /** Records what broke the sitting; with it a new one begins. */
  protected begin(broken: Break, by: string | null = null): JournalRecord {
    const { why, gapSeconds } = broken;
    return this.append('interrupted', { by, why, gapSeconds, event: this.interruption(broken) });
  }

  protected interruption({ why }: Pick<Break, 'why'>): Extract<JobEvent, { type: 'interrupted' }> {
    return { type: 'interrupted', why, sitting: this.sitting };
  }

  /** What opening a job brings with it. */
  enter(): void {
    tidyPrivate(this.dir, this.system.files);
    tidyAttachments(this.dir, this.system.files);
    const { lastRecord, isSealed } = this.journal;
    // A program may have ended between the record that closes and the seal.
    if (this.closed && !isSealed && lastRecord?.data.do === 'close') this.seal();
    if (this.sitting !== 'screens' || this.closed) return;
    const before = this.replay.lastMoment?.wall;
    const now = this.system.now().getTime();
    const gapSeconds = before === undefined ? 0 : Math.max(0, Math.round((now - before) / 1000));
    this.begin({ why: 'new-sitting', gapSeconds });
  }

  /** Makes a record of the head being handed out: whoever holds it can tell later that nothing before it was cut. */
  protected handOutHead(): string {
    this.journal.checkpoint(this.journal.stamp());
    const record = this.journal.lastRecord;
    if (record) this.replay.take(record);
    return formatHead(this.head);
  }

  protected seal(): void {
    this.journal.seal({});
    this.enterLedger('sealed');
  }

  /** Takes up a part of the journal. A clock that was set is found by the journal, and taken like any record. */
  protected goOnIn(journal: Journal): void {
    this.journal = journal;
    journal.onClock = (record) => this.replay.take(record);
  }
}
