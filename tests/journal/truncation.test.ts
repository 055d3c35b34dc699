import { describe, expect, test } from 'vitest';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { PROOF, report } from '../scale.ts';
import { DIR, diskWith, PATH, sample, verdictOn } from './sample.ts';
import { fakeSystem } from './world.ts';

const RECORDS = PROOF ? 200 : 25;
// In the proof of 200 records every length is judged, and every 7th is opened and written to as well.
const OPENED_STEP = PROOF ? 7 : 1;

function completeIn(bytes: Buffer): number {
  return bytes.toString('latin1').split('\n').length - 1;
}

describe('a journal cut off at every byte', () => {
  test('open: every length recovers exactly its complete records and goes on', () => {
    const { bytes } = sample(RECORDS, false);
    let opened = 0;
    for (let length = 0; length <= bytes.length; length += 1) {
      const rest = bytes.subarray(0, length);
      const complete = completeIn(rest);
      const isWhole = length === 0 || rest[length - 1] === 0x0a;
      const expected = complete === 0 ? 'no-header' : isWhole ? 'open' : 'torn';
      expect(verdictOn(rest)).toMatchObject({ outcome: expected, records: complete });
      if (length % OPENED_STEP !== 0) continue;
      opened += 1;
      const disk = diskWith(rest);
      if (complete === 0) {
        expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow(JournalError);
        continue;
      }
      const journal = Journal.open(DIR, fakeSystem(disk));
      const repairs = isWhole ? 0 : 1;
      expect(journal.head.count).toBe(complete + repairs);
      const kept = disk.bytes(PATH).subarray(0, rest.lastIndexOf(0x0a) + 1);
      expect(kept.equals(rest.subarray(0, kept.length))).toBe(true);
      journal.append('note', { text: 'goes on' });
      journal.close();
      if (!isWhole) {
        const torn = rest.subarray(rest.lastIndexOf(0x0a) + 1);
        expect(disk.bytes(`${PATH}.torn-1`).equals(torn)).toBe(true);
        expect(journal.lastRecord?.n).toBe(complete + 1);
      }
      expect(verifyJournal(DIR, { files: disk })).toMatchObject({
        outcome: 'open',
        records: complete + repairs + 1,
        repaired: !isWhole,
      });
    }
    report('truncation, open journal', [{ records: RECORDS, lengths: bytes.length + 1, opened }]);
  });

  test('sealed: every length but the whole is truncated against the head handed over', () => {
    const { bytes, head } = sample(RECORDS, true);
    const outcomes: Record<string, number> = {};
    for (let length = 0; length <= bytes.length; length += 1) {
      const rest = bytes.subarray(0, length);
      const verdict = verdictOn(rest, { head });
      outcomes[verdict.outcome] = (outcomes[verdict.outcome] ?? 0) + 1;
      const complete = completeIn(rest);
      if (length < bytes.length) expect(verdict.firstBad).toBe(complete);
      expect(verdict.records).toBe(complete);
    }
    expect(outcomes).toEqual({ truncated: bytes.length, intact: 1 });
    report('truncation, sealed journal', [{ records: RECORDS, ...outcomes }]);
  });

  test('sealed, with its note beside it: cut short shows without any head from outside, and is never mended', () => {
    const { bytes, disk } = sample(12, true);
    const note = disk.bytes(`${DIR}/seal.txt`);
    for (let length = 1; length < bytes.length; length += 3) {
      const cutDisk = diskWith(bytes.subarray(0, length));
      cutDisk.put(`${DIR}/seal.txt`, note);
      expect(verifyJournal(DIR, { files: cutDisk }).outcome).toBe('truncated');
      const isWhole = bytes[length - 1] === 0x0a;
      if (isWhole) continue;
      expect(() => Journal.open(DIR, fakeSystem(cutDisk))).toThrow(
        /damaged|without a first record|no journal/,
      );
    }
  });
});
