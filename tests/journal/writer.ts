// A program of its own, bundled by the tests that kill it, race it and starve it of disk.
import { appendFileSync, closeSync, existsSync, openSync, writeSync } from 'node:fs';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { Lock } from '../../source/journal/lock.ts';
import { formatRecord, NO_DIGEST } from '../../source/journal/record.ts';
import { realSystem, type System } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';

const [mode = '', dir = '', ...rest] = process.argv.slice(2);
const numbers = rest.map(Number);

function wait(milliseconds: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, milliseconds);
}

function say(value: unknown): void {
  const bytes = Buffer.from(`${JSON.stringify(value)}\n`);
  for (let done = 0; done < bytes.length; ) done += writeSync(1, bytes, done);
}

function openOrCreate(system: System): Journal {
  try {
    return Journal.open(dir, system);
  } catch (error) {
    if (!(error instanceof JournalError) || error.kind !== 'missing') throw error;
    return Journal.create(dir, { job: 'hsc-7' }, system);
  }
}

/** Tries until nobody else holds the journal. */
function whenFree<T>(open: () => T): T {
  for (;;) {
    try {
      return open();
    } catch (error) {
      if (!(error instanceof JournalError) || !['locked', 'exists'].includes(error.kind)) throw error;
      wait(1);
    }
  }
}

const MODES: Readonly<Record<string, () => void>> = {
  /** COUNT BYTES: appends, and says each record once it is acknowledged. */
  append() {
    const [count = 1, bytes = 0] = numbers;
    const journal = openOrCreate(realSystem());
    for (let i = 0; i < count; i += 1) {
      const { n, sha256 } = journal.append('act', { i, text: 'x'.repeat(bytes) });
      say({ n, sha256 });
    }
    journal.close();
  },

  /** COUNT LOCKED GO: begins when the file GO is there, with the lock or with one that takes every holder for dead. */
  race() {
    const [count = 1, locked = 1] = numbers;
    const real = realSystem();
    // A slow disk, so that two that write at a time do meet.
    let isOpen = false;
    const write: typeof real.files.write = (fd, from, offset) => {
      if (isOpen) wait(locked === 1 ? 1 : 5);
      return real.files.write(fd, from, offset);
    };
    const slow = { ...real, files: { ...real.files, write } };
    const system = locked === 1 ? slow : { ...slow, processStart: () => null };
    const journalOf = () => whenFree(() => Journal.open(dir, system));
    say('ready');
    while (!existsSync(rest[2]!));
    const journal = journalOf();
    isOpen = true;
    for (let i = 0; i < count; i += 1) {
      const { n, sha256 } = journal.append('act', { i, by: process.pid });
      say({ n, sha256 });
    }
    journal.close();
  },

  /** TIMES SEED LOG: takes the lock again and again, and now and then dies with it. */
  stress() {
    const [times = 1, seed = 1] = numbers;
    const log = rest[2]!;
    const system = realSystem();
    let state = seed;
    const chance = () => {
      state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fffffff;
      return state / 0x7fffffff;
    };
    for (let i = 0; i < times; i += 1) {
      const lock = whenFree(() => Lock.acquire(dir, system));
      appendFileSync(log, `enter ${process.pid}\n`);
      if (chance() < 0.3) wait(1);
      if (chance() < 0.05) {
        appendFileSync(log, `die ${process.pid}\n`);
        process.kill(process.pid, 'SIGKILL');
        wait(10_000);
      }
      appendFileSync(log, `leave ${process.pid}\n`);
      lock.release();
    }
  },

  /** BYTES: appends until the disk takes no more, then seals; says what happened. */
  fill() {
    const [bytes = 0] = numbers;
    const journal = openOrCreate(realSystem());
    let acknowledged = 0;
    const trouble: string[] = [];
    try {
      for (;;) {
        const had = journal.hasReserve;
        journal.append('act', { text: 'x'.repeat(bytes) });
        acknowledged += 1;
        // The work is to be closed as soon as the reserve had to be given up.
        if (had && !journal.hasReserve) break;
      }
    } catch (error) {
      if (!(error instanceof JournalError)) throw error;
      trouble.push(error.kind);
    }
    const sealed = (() => {
      try {
        return journal.seal({}).warning === null;
      } catch (error) {
        if (!(error instanceof JournalError)) throw error;
        trouble.push(error.kind);
        return false;
      }
    })();
    say({ acknowledged, trouble, sealed, count: journal.head.count });
  },

  /** RECORDS: makes a journal of one file, with nothing synced; only its reading is of interest. */
  make() {
    const [records = 1] = numbers;
    const file = openSync(dir, 'w', 0o600);
    let prev = NO_DIGEST;
    for (let n = 0; n < records; ) {
      const chunk: Buffer[] = [];
      for (; n < records && chunk.length < 1_000; n += 1) {
        const data =
          n === 0
            ? { job: 'hsc-7' }
            : { step: `measure.z${n % 9}`, typed: '2.204 kohm', text: 'x'.repeat(n % 90) };
        const at = new Date(1_780_000_000_000 + n * 1_000).toISOString();
        const { bytes, record } = formatRecord({
          at,
          data,
          kind: n === 0 ? 'open' : 'act',
          mono: n,
          n,
          prev,
        });
        prev = record.sha256;
        chunk.push(bytes);
      }
      const all = Buffer.concat(chunk);
      for (let done = 0; done < all.length; ) done += writeSync(file, all, done);
    }
    closeSync(file);
  },

  /** Verifies; says the outcome and the most memory this program ever took, in MB. */
  verify() {
    const { outcome, records } = verifyJournal(dir);
    say({ outcome, records, peak: Math.round(process.resourceUsage().maxRSS / 1024) });
  },

  /** Opens; says the kind of error. */
  open() {
    try {
      Journal.open(dir, realSystem()).close();
      say({ kind: null });
    } catch (error) {
      if (!(error instanceof JournalError)) throw error;
      say({ kind: error.kind, says: error.message });
    }
  },
};

MODES[mode]!();
