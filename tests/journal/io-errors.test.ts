import { describe, expect, test } from 'vitest';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report } from '../scale.ts';
import { type Failure, failingFiles } from './failing-files.ts';
import { MemoryDisk } from './memory-disk.ts';
import { DIR } from './sample.ts';
import { fakeSystem, PATIENCE } from './world.ts';

const CODES = ['EIO', 'ENOSPC', 'EDQUOT', 'EFBIG'];
const PARTIAL_BYTES = [1, 100];

type Worked = {
  readonly acknowledged: JournalRecord[];
  readonly errors: JournalError[];
  readonly calls: string[];
};

/**
 * A program that works as the job does: it opens or makes the journal, tries once more what failed, goes on in a
 * continuation after NOT SAVED, seals, and adds a note.
 */
function work(disk: MemoryDisk, failure: Failure | null): Worked {
  const acknowledged: JournalRecord[] = [];
  const errors: JournalError[] = [];
  const files = failingFiles(disk, failure);
  const attempt = <T>(step: () => T): T | null => {
    for (let tries = 0; tries < 2; tries += 1) {
      try {
        return step();
      } catch (error) {
        // Anything but a JournalError is a defect, and fails the test.
        if (!(error instanceof JournalError)) throw error;
        errors.push(error);
        if (error.kind === 'not-saved') break;
      }
    }
    return null;
  };
  const system = fakeSystem(files);
  let journal =
    attempt(() => Journal.create(DIR, { job: 'hsc-7' }, system)) ?? attempt(() => Journal.open(DIR, system));
  if (journal === null) return { acknowledged, errors, calls: files.calls };
  const keep = (record: JournalRecord | null | undefined) => {
    if (record) acknowledged.push(record);
  };
  keep(journal.lastRecord);
  const append = (i: number) => {
    const current = journal!;
    const record = attempt(() => current.append('act', { i, text: 'x'.repeat(90) }));
    if (record !== null) return keep(record);
    if (current.isWritable) return;
    const continued = attempt(() => current.continueIn());
    if (continued === null) return;
    journal = continued;
    keep(continued.lastRecord);
    keep(attempt(() => continued.append('act', { i, text: 'again' })));
  };
  append(0);
  append(1);
  journal.close();
  const reopened = attempt(() => Journal.open(DIR, system));
  if (reopened === null) return { acknowledged, errors, calls: files.calls };
  journal = reopened;
  append(2);
  append(3);
  const sealing = journal;
  if (attempt(() => sealing.seal({})) !== null) {
    keep(journal.lastRecord);
    const noted = attempt(() => sealing.continueIn());
    keep(noted?.lastRecord);
    keep(attempt(() => noted?.append('note', { text: 'later' }) ?? null));
    noted?.close();
  }
  journal.close();
  return { acknowledged, errors, calls: files.calls };
}

/** What a later program finds on a disk that works again. */
function verifyAllThere(disk: MemoryDisk, acknowledged: readonly JournalRecord[], where: string): void {
  const before = verifyJournal(DIR, { files: disk });
  const hasNothing = acknowledged.length === 0;
  if (['broken', 'replaced', 'truncated'].includes(before.outcome)) expect.fail(`${where}: ${before.says}`);
  if (hasNothing && before.outcome === 'no-header') return;
  const system = fakeSystem(disk);
  const journal = Journal.open(DIR, system);
  const found = new Map([...readRecords(DIR, disk)].map((record) => [record.n, record.sha256]));
  for (const record of acknowledged)
    if (found.get(record.n) !== record.sha256)
      expect.fail(`${where}: record ${record.n} ${record.kind} is lost`);
  const goesOn = journal.isSealed ? journal.continueIn() : journal;
  goesOn.append('note', { text: 'works again' });
  goesOn.close();
  const after = verifyJournal(DIR, { files: disk });
  if (!['open', 'self-consistent'].includes(after.outcome)) expect.fail(`${where}: afterwards ${after.says}`);
}

const everything = work(new MemoryDisk(), null);

describe('a call of the disk that fails', () => {
  test('the work without failures makes the calls that are to fail', () => {
    expect(everything.errors).toEqual([]);
    expect(everything.acknowledged).toHaveLength(8);
    expect(new Set(everything.calls)).toEqual(
      new Set([
        'mkdir',
        'overwrite',
        'list',
        'open',
        'write',
        'read',
        'stat',
        'fsync',
        'truncate',
        'chmod',
        'link',
        'unlink',
        'rename',
      ]),
    );
  });

  test.each(CODES)(
    '%s at any call, once and for ever, after none or some bytes: nothing acknowledged is lost',
    PATIENCE,
    (code) => {
      let runs = 0;
      const kinds: Record<string, number> = {};
      for (const forEver of [false, true]) {
        for (let at = 1; at <= everything.calls.length; at += 1) {
          const partials = everything.calls[at - 1] === 'write' ? [0, ...PARTIAL_BYTES] : [0];
          for (const partial of partials) {
            const where = `${code} at call ${at} (${everything.calls[at - 1]}), ${forEver ? 'for ever' : 'once'}, ${partial} bytes`;
            const disk = new MemoryDisk();
            const { acknowledged, errors } = work(disk, { at, code, forEver, partial });
            for (const { kind } of errors) kinds[kind] = (kinds[kind] ?? 0) + 1;
            if (!disk.names.has(DIR)) continue;
            if (!disk.names.has(`${DIR}/journal.jsonl`)) expect(acknowledged).toEqual([]);
            else {
              verifyAllThere(disk.afterKill(), acknowledged, where);
              const lost = disk.afterPowerCut(
                () => 'old',
                () => 0,
                { sizeFirst: false, namesKept: true },
              );
              verifyAllThere(lost, acknowledged, `${where}, then a power cut`);
            }
            runs += 1;
          }
        }
      }
      expect(runs).toBeGreaterThan(40);
      report(`I/O errors, ${code}`, [{ runs, ...kinds }]);
    },
  );
});

describe('what the person is told', () => {
  function failingAppend(failure: Omit<Failure, 'at'>, call: string) {
    const disk = new MemoryDisk();
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk));
    journal.append('act', { i: 0 });
    journal.close();
    const trial = failingFiles(disk.afterKill(), null);
    const opened = Journal.open(DIR, fakeSystem(trial));
    const calls = trial.calls.length;
    opened.append('act', { i: 1 });
    const found = trial.calls.slice(calls).indexOf(call);
    const at = found < 0 ? 0 : calls + 1 + found;
    const live = disk.afterKill();
    const failing = Journal.open(DIR, fakeSystem(failingFiles(live, { ...failure, at })));
    return { journal: failing, disk: live };
  }

  test('after a failed fsync: NOT SAVED, and the file is never written to again, whatever the disk says later', () => {
    const { journal, disk } = failingAppend({ code: 'EIO', forEver: false, partial: 0 }, 'fsync');
    expect(() => journal.append('act', { i: 1 })).toThrow('NOT SAVED');
    const size = disk.bytes(`${DIR}/journal.jsonl`).length;
    expect(() => journal.append('act', { i: 2 })).toThrow('NOT SAVED');
    expect(disk.bytes(`${DIR}/journal.jsonl`).length).toBe(size);
    expect(journal.isWritable).toBe(false);
    expect(journal.head.count).toBe(2);
  });

  test('a continuation elsewhere holds everything saved, and is linked', () => {
    const { journal, disk } = failingAppend({ code: 'EIO', forEver: false, partial: 0 }, 'fsync');
    expect(() => journal.append('act', { i: 1 })).toThrow('NOT SAVED');
    disk.mkdir('/stick/job');
    journal.copyOnward('/stick/job');
    const continued = Journal.open('/stick/job', fakeSystem(disk));
    continued.append('act', { i: 1 });
    continued.close();
    expect([...readRecords('/stick/job', disk)].map(({ kind }) => kind)).toEqual([
      'open',
      'act',
      'open',
      'act',
    ]);
    expect(verifyJournal('/stick/job', { files: disk })).toMatchObject({ outcome: 'open', records: 4 });
  });

  test('a short write that fails is undone, and the same record is saved at the second try', () => {
    const { journal, disk } = failingAppend({ code: 'EIO', forEver: false, partial: 20 }, 'write');
    expect(() => journal.append('act', { i: 1 })).toThrow('nothing of it is left: The disk reports an error');
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', records: 2 });
    expect(journal.append('act', { i: 1 }).n).toBe(2);
  });

  test('a full disk: the reserve is given up, and that is recorded before the record', () => {
    const { journal } = failingAppend({ code: 'ENOSPC', forEver: false, partial: 20 }, 'write');
    expect(journal.hasReserve).toBe(true);
    expect(journal.append('act', { i: 1 }).n).toBe(3);
    expect(journal.hasReserve).toBe(false);
    expect([...journal.records()].map(({ kind }) => kind)).toEqual(['open', 'act', 'disk-full', 'act']);
  });

  test('a limit of the file: the reserve is kept, for more room does not help', () => {
    const { journal } = failingAppend({ code: 'EFBIG', forEver: false, partial: 0 }, 'write');
    expect(() => journal.append('act', { i: 1 })).toThrow('largest size');
    expect(journal.hasReserve).toBe(true);
  });

  test('a file that another program changed takes no more', () => {
    const { journal, disk } = failingAppend({ code: 'EIO', forEver: false, partial: 0 }, 'link');
    const fd = disk.open(`${DIR}/journal.jsonl`, 'append');
    disk.write(fd, Buffer.from('x'), 0);
    expect(() => journal.append('act', { i: 1 })).toThrow('another program changed the file');
  });

  test('a file that was deleted takes no more', () => {
    const { journal, disk } = failingAppend({ code: 'EIO', forEver: false, partial: 0 }, 'link');
    disk.unlink(`${DIR}/journal.jsonl`);
    expect(() => journal.append('act', { i: 1 })).toThrow('the file was deleted');
  });
});
