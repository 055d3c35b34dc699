import { JournalError } from './error.ts';
import { formatHead } from './head.ts';
import { Journal } from './journal.ts';
import { readRecords } from './read.ts';
import type { JournalRecord } from './record.ts';
import type { Head } from './scan.ts';
import { type JournalFiles, realFiles, type System } from './system.ts';

/** A line of the ledger: a job that was opened or sealed on this installation, and its head at that moment. */
type LedgerEntry = {
  readonly kind: 'opened' | 'sealed';
  readonly job: string;
  readonly head: string;
  readonly at: string;
};

type See = (record: JournalRecord) => void;

const TRIES = 200;
const WAIT_MILLISECONDS = 10;

/**
 * Enters a job in the ledger of the installation, a journal in a folder of its own: a job that vanished leaves a
 * gap. No condition of the work: what went wrong comes back as a sentence, null if nothing did.
 */
export function writeLedger(
  folder: string,
  kind: LedgerEntry['kind'],
  job: string,
  head: Head,
  system: System,
): string | null {
  try {
    const entry = { head: formatHead(head), job };
    let isThere = false;
    const ledger = openLedger(folder, system, (record) => {
      isThere ||= record.kind === kind && record.data.job === job && record.data.head === entry.head;
    });
    try {
      // Whoever was killed after it was entered, and does the same again, enters nothing new.
      if (!isThere) ledger.append(kind, entry);
    } finally {
      ledger.close();
    }
    return null;
  } catch (error) {
    return `The ledger of jobs was not kept: ${error instanceof Error ? error.message : String(error)}`;
  }
}

/** @throws JournalError `broken` after the last good entry where damage follows */
export function* readLedger(folder: string, files: JournalFiles = realFiles): Generator<LedgerEntry> {
  for (const { kind, data, at } of readRecords(folder, files))
    if (kind === 'opened' || kind === 'sealed')
      yield { kind, job: String(data.job), head: String(data.head), at };
}

// Another program holds the ledger for a few milliseconds at most.
function openLedger(folder: string, system: System, see: See): Journal {
  for (let tries = 1; ; tries += 1) {
    try {
      return openOrCreate(folder, system, see);
    } catch (error) {
      const isBusy = error instanceof JournalError && (error.kind === 'locked' || error.kind === 'exists');
      if (!isBusy || tries === TRIES) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAIT_MILLISECONDS);
    }
  }
}

function openOrCreate(folder: string, system: System, see: See): Journal {
  try {
    return Journal.open(folder, system, see);
  } catch (error) {
    if (error instanceof JournalError && error.kind === 'broken')
      return Journal.continueBroken(folder, system);
    if (error instanceof JournalError && error.kind === 'missing')
      return Journal.create(folder, { job: 'ledger' }, system);
    throw error;
  }
}
