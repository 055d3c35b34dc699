import { describe, expect, test } from 'vitest';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { PROOF, report } from '../scale.ts';
import { DIR, diskWith, PATH, sample, verdictOn } from './sample.ts';
import { fakeSystem, PATIENCE } from './world.ts';

const RECORDS = PROOF ? 200 : 25;
// In the proof of 200 records every length is judged, and every 7th is opened and written to as well.
const OPENED_STEP = PROOF ? 7 : 1;

/** For each length of a journal, how many complete records it holds. */
function completeRecords(bytes: Buffer): number[] {
  let complete = 0;
  return [0, ...bytes.map((byte) => (byte === 0x0a ? ++complete : complete))];
}

/** Plain comparison: there are too many lengths for an `expect` each. */
function agree(length: number, found: unknown, expected: unknown): void {
  const [one, other] = [JSON.stringify(found), JSON.stringify(expected)];
  if (one !== other) expect.fail(`cut at byte ${length}: ${one} and not ${other}`);
}

describe('a journal cut off at every byte', () => {
  test('open: every length recovers exactly its complete records and goes on', PATIENCE, () => {
    const { bytes } = sample(RECORDS, false);
    const completeAt = completeRecords(bytes);
    let opened = 0;
    for (let length = 0; length <= bytes.length; length += 1) {
      const rest = bytes.subarray(0, length);
      const complete = completeAt[length]!;
      const isWhole = length === 0 || rest[length - 1] === 0x0a;
      const expected = complete === 0 ? 'no-header' : isWhole ? 'open' : 'torn';
      const { outcome, records } = verdictOn(rest);
      agree(length, [outcome, records], [expected, complete]);
      if (length % OPENED_STEP !== 0) continue;
      opened += 1;
      const disk = diskWith(rest);
      if (complete === 0) {
        expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow(JournalError);
        continue;
      }
      const journal = Journal.open(DIR, fakeSystem(disk));
      const repairs = isWhole ? 0 : 1;
      agree(length, journal.head.count, complete + repairs);
      const good = rest.lastIndexOf(0x0a) + 1;
      agree(length, disk.bytes(PATH).subarray(0, good).equals(rest.subarray(0, good)), true);
      if (!isWhole) agree(length, disk.bytes(`${PATH}.torn-1`).equals(rest.subarray(good)), true);
      journal.append('note', { text: 'goes on' });
      journal.close();
      const after = verifyJournal(DIR, { files: disk });
      agree(
        length,
        [after.outcome, after.records, after.repaired],
        ['open', complete + repairs + 1, !isWhole],
      );
    }
    report('truncation, open journal', [{ records: RECORDS, lengths: bytes.length + 1, opened }]);
  });

  test('sealed: every length but the whole is truncated against the head handed over', PATIENCE, () => {
    const { bytes, head } = sample(RECORDS, true);
    const completeAt = completeRecords(bytes);
    const outcomes: Record<string, number> = {};
    for (let length = 0; length <= bytes.length; length += 1) {
      const { outcome, firstBad, records } = verdictOn(bytes.subarray(0, length), { head });
      outcomes[outcome] = (outcomes[outcome] ?? 0) + 1;
      const complete = completeAt[length]!;
      agree(length, [records, firstBad], [complete, length === bytes.length ? null : complete]);
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
