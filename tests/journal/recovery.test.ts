import { describe, expect, test } from 'vitest';
import { sha256 } from '../../source/journal/digest.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { failingFiles } from './failing-files.ts';
import type { MemoryDisk } from './memory-disk.ts';
import { DIR, diskWith, PATH, sample } from './sample.ts';
import { fakeSystem, fill } from './world.ts';

function tornDisk(): { disk: MemoryDisk; torn: Buffer; good: number } {
  const { bytes, lines } = sample(6, false);
  const good = bytes.length - lines.at(-1)!.length;
  const cut = bytes.subarray(0, bytes.length - 40);
  return { disk: diskWith(cut), torn: cut.subarray(good), good };
}

describe('the mending of a torn end', () => {
  test('keeps the end beside, cuts it off, and is itself recorded', () => {
    const { disk, torn, good } = tornDisk();
    const journal = Journal.open(DIR, fakeSystem(disk));
    expect(journal.lastRecord).toMatchObject({
      kind: 'repair',
      n: 5,
      data: { dropped: torn.length, kept: 'journal.jsonl.torn-1', offset: good, sha256: sha256(torn) },
    });
    expect(journal.lastRecord!.data).toHaveProperty('boot');
    expect(disk.bytes(`${PATH}.torn-1`).equals(torn)).toBe(true);
    journal.close();
    const verdict = verifyJournal(DIR, { files: disk });
    expect(verdict).toMatchObject({ outcome: 'open', repaired: true });
    expect(verdict.says).toContain('An unfinished write was mended');
  });

  test('stopped at any of its steps and begun again comes to the same: nothing lost, one end kept, recorded', () => {
    const trial = failingFiles(tornDisk().disk, null);
    Journal.open(DIR, fakeSystem(trial)).close();
    let stops = 0;
    for (let at = 1; at <= trial.calls.length; at += 1) {
      for (const partial of [0, 7]) {
        const { disk, torn } = tornDisk();
        try {
          Journal.open(
            DIR,
            fakeSystem(failingFiles(disk, { at, code: 'EIO', forEver: true, partial })),
          ).close();
        } catch {
          stops += 1;
        }
        const later = disk.afterPowerCut(
          () => 'new',
          () => 0,
          { sizeFirst: true, namesKept: true },
        );
        const journal = Journal.open(DIR, fakeSystem(later));
        journal.append('note', {});
        journal.close();
        const records = [...readRecords(DIR, later)];
        expect(records.slice(0, 5).map(({ kind }) => kind)).toEqual(['open', 'act', 'act', 'act', 'act']);
        const repairs = records.filter(({ kind }) => kind === 'repair');
        expect(repairs.map(({ data }) => data.sha256)).toContain(sha256(torn));
        const kept = later.list(DIR).filter((name) => name.includes('.torn-'));
        expect(repairs.map(({ data }) => data.kept).sort()).toEqual(kept.sort());
        expect(verifyJournal(DIR, { files: later }).outcome).toBe('open');
      }
    }
    expect(stops).toBeGreaterThan(20);
  });

  test('happens again at the next torn end, beside the first', () => {
    const { disk } = tornDisk();
    Journal.open(DIR, fakeSystem(disk)).close();
    disk.put(PATH, Buffer.concat([disk.bytes(PATH), Buffer.from('{"at":"20')]));
    Journal.open(DIR, fakeSystem(disk)).close();
    expect(disk.bytes(`${PATH}.torn-2`).toString()).toBe('{"at":"20');
    expect([...readRecords(DIR, disk)].map(({ kind }) => kind).slice(-2)).toEqual(['repair', 'repair']);
  });

  test('a first record that was never finished is put aside, and the journal made anew', () => {
    const { lines } = sample(2, false);
    const disk = diskWith(lines[0]!.subarray(0, 100));
    expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow('without a first record');
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk));
    fill(journal, 2);
    journal.close();
    expect([...readRecords(DIR, disk)].map(({ kind }) => kind)).toEqual(['open', 'repair', 'act', 'act']);
    expect(disk.bytes(`${PATH}.torn-1`).length).toBe(100);
  });

  test('a journal that is there is never made anew', () => {
    const { disk } = sample(3, false);
    expect(() => Journal.create(DIR, { job: 'hsc-8' }, fakeSystem(disk))).toThrow('holds a journal already');
    expect(verifyJournal(DIR, { files: disk }).records).toBe(3);
  });
});

describe('a damaged journal', () => {
  function damaged() {
    const { bytes } = sample(12, false);
    bytes[Math.floor(bytes.length / 2)]! ^= 1;
    const disk = diskWith(bytes);
    const { firstBad } = verifyJournal(DIR, { files: disk });
    return { disk, bytes, firstBad: firstBad! };
  }

  test('goes on in a continuation after its last good record; it stays called broken', () => {
    const { disk, bytes, firstBad } = damaged();
    const journal = Journal.continueBroken(DIR, fakeSystem(disk));
    journal.append('note', { text: 'goes on' });
    journal.close();
    expect(disk.bytes(PATH).equals(bytes)).toBe(true);
    expect([...readRecords(DIR, disk)].map(({ n }) => n)).toEqual([...Array(firstBad + 2).keys()]);
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'broken', firstBad });
    const again = Journal.open(DIR, fakeSystem(disk));
    expect(again.append('note', {}).n).toBe(firstBad + 2);
    expect(again.job).toBe('hsc-7');
  });

  test('with no good record at all there is nothing to go on from', () => {
    const disk = diskWith(Buffer.alloc(70_000, 'x'));
    expect(() => Journal.continueBroken(DIR, fakeSystem(disk))).toThrow('no good record to go on from');
  });
});

describe('a continuation', () => {
  function continued() {
    const { disk } = sample(4, false);
    const journal = Journal.open(DIR, fakeSystem(disk)).continueIn();
    fill(journal, 2);
    journal.close();
    return disk;
  }

  test('is one chain with what went before: numbers and links run on', () => {
    const disk = continued();
    const [, , , last, first] = [...readRecords(DIR, disk)];
    expect(first).toMatchObject({
      kind: 'open',
      n: 4,
      prev: last!.sha256,
      data: { continues: { file: 'journal.jsonl', n: 3, sha256: last!.sha256 }, job: 'hsc-7' },
    });
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', records: 7 });
  });

  test.each<[string, (disk: MemoryDisk) => void, number]>([
    ['a record missing before it', (disk) => disk.put(PATH, cutLast(disk.bytes(PATH), 1)), 3],
    [
      'two records more before it',
      (disk) => disk.put(PATH, Buffer.concat([disk.bytes(PATH), ...sample(6, false).lines.slice(4)])),
      4,
    ],
    ['another journal before it', (disk) => disk.put(PATH, sample(4, false).bytes), 4],
    [
      'its first record missing',
      (disk) => disk.put(`${DIR}/journal.2.jsonl`, cutFirst(disk.bytes(`${DIR}/journal.2.jsonl`))),
      4,
    ],
    ['the part before it gone', (disk) => disk.unlink(PATH), 0],
  ])('with %s is damage, with its number', (_, damage, firstBad) => {
    const disk = continued();
    damage(disk);
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'broken', firstBad });
  });

  test('passes over one record that was written before it and never acknowledged', () => {
    const disk = continued();
    const other = sample(5, false).lines[4]!;
    disk.put(PATH, Buffer.concat([disk.bytes(PATH), other]));
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', records: 7 });
    disk.put(PATH, Buffer.concat([cutLast(disk.bytes(PATH), 1), other.subarray(0, 50)]));
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', records: 7 });
  });

  test('that never got its first record is put aside, and the part before it goes on', () => {
    const { disk } = sample(4, false);
    disk.put(`${DIR}/journal.2.jsonl`, Buffer.from('{"at":'));
    const journal = Journal.open(DIR, fakeSystem(disk));
    expect(journal.lastRecord).toMatchObject({
      kind: 'repair',
      n: 4,
      data: { kept: 'journal.2.jsonl.torn-1' },
    });
    expect(verifyJournal(DIR, { files: disk }).outcome).toBe('open');
  });

  test('can be verified by itself, and says that it goes on from what was not looked at', () => {
    const disk = continued();
    const verdict = verifyJournal(`${DIR}/journal.2.jsonl`, { files: disk });
    expect(verdict).toMatchObject({ outcome: 'open', records: 7 });
    expect(verdict.says).toContain('goes on from record 3 of an earlier part');
  });
});

function cutLast(bytes: Buffer, lines: number): Buffer {
  return Buffer.from(
    bytes
      .toString()
      .split('\n')
      .slice(0, -1 - lines)
      .map((line) => `${line}\n`)
      .join(''),
  );
}

function cutFirst(bytes: Buffer): Buffer {
  return bytes.subarray(bytes.indexOf(0x0a) + 1);
}
