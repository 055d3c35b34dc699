import { describe, expect, test } from 'vitest';
import { CHECKS, type CheckName } from '../../source/journal/checks.ts';
import { sha256 } from '../../source/journal/digest.ts';
import { Journal } from '../../source/journal/journal.ts';
import { formatRecord, type JournalRecord, NO_DIGEST } from '../../source/journal/record.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report } from '../scale.ts';
import { DIR, diskWith, linesOf, PATH, type Sample, sample, verdictOn } from './sample.ts';
import { fakeSystem, PATIENCE, seeded } from './world.ts';

const sealed = sample(12, true);

/** A chain whose digests and links all fit, over other data: what the owner of the file can always make. */
function rewritten(lines: readonly Buffer[], change: (record: JournalRecord) => JournalRecord): Buffer {
  let prev = NO_DIGEST;
  return Buffer.concat(
    lines.map((line) => {
      const { record, bytes } = formatRecord({
        ...change(JSON.parse(line.toString()) as JournalRecord),
        prev,
      });
      prev = record.sha256;
      return bytes;
    }),
  );
}

describe('a single bit', () => {
  test('flipped anywhere in a sealed journal is found, with the number of the record', PATIENCE, () => {
    const { bytes, lines, head } = sealed;
    const outcomes: Record<string, number> = {};
    let start = 0;
    for (const [n, line] of lines.entries()) {
      for (let offset = start; offset < start + line.length; offset += 1) {
        for (let bit = 0; bit < 8; bit += 1) {
          bytes[offset]! ^= 1 << bit;
          const verdict = verdictOn(bytes, { head });
          bytes[offset]! ^= 1 << bit;
          outcomes[verdict.outcome] = (outcomes[verdict.outcome] ?? 0) + 1;
          if (verdict.firstBad !== n) expect.fail(`byte ${offset}, bit ${bit}: ${JSON.stringify(verdict)}`);
        }
      }
      start += line.length;
    }
    expect(
      Object.keys(outcomes).filter((outcome) => !['broken', 'truncated', 'no-header'].includes(outcome)),
    ).toEqual([]);
    expect(verdictOn(bytes, { head }).outcome).toBe('intact');
    report('every bit of a sealed journal flipped', [{ flips: bytes.length * 8, ...outcomes }]);
  });

  test('in the newline between the last two records of an open journal is damage, not an unfinished write', () => {
    const { bytes, lines } = sample(6, false);
    const newline = bytes.length - lines.at(-1)!.length - 1;
    bytes[newline]! ^= 0x20;
    expect(verdictOn(bytes)).toMatchObject({ outcome: 'broken', firstBad: 4 });
    expect(() => Journal.open(DIR, fakeSystem(diskWith(bytes)))).toThrow('Record 4');
  });
});

describe('a torn last record', () => {
  // Sectors of 512 bytes, each as it was before (nothing, so the file ends or holds zeros), new, zero or noise.
  test('in any mixture of sectors is mended, and never taken for a record or for damage', PATIENCE, () => {
    const random = seeded(1944);
    let states = 0;
    let whole = 0;
    for (const long of [300, 700, 1_300, 2_100]) {
      const disk = diskWith(sample(4, false).bytes);
      const before = disk.bytes(PATH).length;
      const journal = Journal.open(DIR, fakeSystem(disk));
      journal.append('act', { text: 'x'.repeat(long) });
      const bytes = disk.bytes(PATH);
      const sectors: { from: number; to: number }[] = [];
      for (let from = before; from < bytes.length; from = sectors.at(-1)!.to)
        sectors.push({ from, to: Math.min(bytes.length, (Math.floor(from / 512) + 1) * 512) });
      for (let state = 0; state < 3 ** sectors.length; state += 1) {
        for (const size of [...sectors.map(({ to }) => to)]) {
          const torn = Buffer.from(bytes.subarray(0, size));
          for (const [i, { from, to }] of sectors.entries()) {
            const fate = Math.floor(state / 3 ** i) % 3;
            if (fate === 1 && from < size) torn.fill(0, from, Math.min(to, size));
            if (fate === 2)
              for (let at = from; at < Math.min(to, size); at += 1) torn[at] = Math.floor(random() * 256);
          }
          states += 1;
          if (torn.equals(bytes)) {
            whole += 1;
            continue;
          }
          expect(verdictOn(torn)).toMatchObject({ outcome: 'torn', records: 4, firstBad: 4 });
          const again = diskWith(torn);
          Journal.open(DIR, fakeSystem(again)).close();
          expect(verifyJournal(DIR, { files: again })).toMatchObject({
            outcome: 'open',
            records: 5,
            repaired: true,
          });
        }
      }
    }
    expect(whole).toBe(4);
    expect(states).toBeGreaterThan(1_000);
    report('torn sectors', [{ states, whole }]);
  });

  test('that lacks only its newline is torn too', () => {
    const { bytes } = sample(5, false);
    expect(verdictOn(bytes.subarray(0, -1))).toMatchObject({ outcome: 'torn', firstBad: 4 });
  });

  test('longer than any record is damage', () => {
    const { bytes } = sample(5, false);
    const long = Buffer.concat([bytes, Buffer.alloc(64 * 1024 + 1, 'x')]);
    expect(verdictOn(long)).toMatchObject({ outcome: 'broken', firstBad: 5 });
    expect(() => Journal.open(DIR, fakeSystem(diskWith(long)))).toThrow('Record 5');
  });
});

describe('records moved about', () => {
  const other = sample(12, true);
  const edits: {
    name: string;
    edit: (lines: Buffer[], at: number) => Buffer[];
    firstBad: (at: number) => number;
  }[] = [
    { name: 'removed', edit: (lines, at) => lines.toSpliced(at, 1), firstBad: (at) => at },
    {
      name: 'swapped',
      edit: (lines, at) => lines.toSpliced(at, 2, lines[at + 1]!, lines[at]!),
      firstBad: (at) => at,
    },
    { name: 'duplicated', edit: (lines, at) => lines.toSpliced(at, 0, lines[at]!), firstBad: (at) => at + 1 },
    {
      name: 'inserted',
      edit: (lines, at) => lines.toSpliced(at + 1, 0, other.lines[at + 1]!),
      firstBad: (at) => at + 1,
    },
    {
      name: 'spliced',
      edit: (lines, at) => [...lines.slice(0, at + 1), ...other.lines.slice(at + 1)],
      firstBad: (at) => at + 1,
    },
  ];

  test.each(edits)('$name anywhere: the first bad record is named, sealed and open', ({ edit, firstBad }) => {
    for (const { lines } of [sealed, sample(12, false)] satisfies Pick<Sample, 'lines'>[]) {
      for (let at = 0; at < lines.length - 1; at += 1) {
        const edited = Buffer.concat(edit([...lines], at));
        expect(verdictOn(edited)).toMatchObject({ outcome: 'broken', firstBad: firstBad(at) });
        expect(() => Journal.open(DIR, fakeSystem(diskWith(edited)))).toThrow(`Record ${firstBad(at)}`);
      }
    }
  });

  test('the last record removed: not seen in an open journal without a head, seen with one', () => {
    const { lines, head } = sample(12, false);
    const cut = Buffer.concat(lines.slice(0, -1));
    expect(verdictOn(cut)).toMatchObject({ outcome: 'open', records: 11 });
    expect(verdictOn(cut).says).toContain('Records cut off at the end would not be noticed');
    expect(verdictOn(cut, { head })).toMatchObject({ outcome: 'truncated', firstBad: 11 });
  });

  test('a damaged journal is made read-only and left as it is', () => {
    const { bytes } = sample(12, false);
    bytes[Math.floor(bytes.length / 2)]! ^= 1;
    const disk = diskWith(bytes);
    expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow('kept as it is');
    expect(disk.names.get(PATH)?.mode).toBe(0o400);
    expect(disk.bytes(PATH).equals(bytes)).toBe(true);
  });

  test('a first record that is damaged is damage too, and is not put aside as one that was never finished', () => {
    const { bytes, lines } = sample(12, false);
    for (let at = 0; at < lines[0]!.length; at += 5) {
      const damaged = Buffer.from(bytes);
      damaged[at]! ^= 1;
      const disk = diskWith(damaged);
      expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow('Record 0 of journal.jsonl is damaged');
      expect(() => Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk))).toThrow(
        'holds a journal already',
      );
      expect(disk.bytes(PATH).equals(damaged)).toBe(true);
    }
  });

  test('a second line in the place of the first opens no journal', () => {
    expect(verdictOn(Buffer.concat(sealed.lines.slice(1)))).toMatchObject({ outcome: 'broken', firstBad: 0 });
  });

  test('anything that is no journal has no header', () => {
    for (const text of ['', '\n', 'hello\n', '{"at":"x"}\n', '{}'])
      expect(verdictOn(Buffer.from(text))).toMatchObject({ outcome: 'no-header', records: 0, head: null });
  });

  test('a record with another member is none of this format, although its digest fits', () => {
    const body = {
      at: '2026-05-04T08:00:00.000Z',
      data: {},
      extra: 1,
      kind: 'open',
      mono: 0,
      n: 0,
      prev: NO_DIGEST,
    };
    const text = JSON.stringify(body);
    const line = Buffer.from(`${text.slice(0, -1)},"sha256":"${sha256(text)}"}\n`);
    expect(verdictOn(Buffer.concat([line, line]), { full: false }).records).toBe(1);
    expect(verdictOn(Buffer.concat([line, line])).records).toBe(0);
  });
});

describe('what a chain cannot show', () => {
  const forged = rewritten(sealed.lines, (record) => ({
    ...record,
    data: record.kind === 'act' ? { ...record.data, text: 'all was well' } : record.data,
  }));

  test('a chain written anew is self-consistent without a head from outside, never intact', () => {
    const verdict = verdictOn(forged);
    expect(verdict.outcome).toBe('self-consistent');
    expect(verdict.says).not.toMatch(/verified/i);
    expect(verdict.says).toContain('could have written it anew');
  });

  test('with the head that was handed over it is replaced', () => {
    expect(verdictOn(forged, { head: sealed.head })).toMatchObject({ outcome: 'replaced', records: 12 });
    const bare = verdictOn(forged, { head: sealed.head.split(':')[1]! });
    expect(bare.outcome).toBe('replaced');
    expect(bare.says).toContain('cut short');
  });

  test('with the old note of the seal beside it, it is replaced', () => {
    const disk = diskWith(forged);
    disk.put(`${DIR}/seal.txt`, sealed.disk.bytes(`${DIR}/seal.txt`));
    expect(verifyJournal(DIR, { files: disk }).outcome).toBe('replaced');
  });
});

// Each check of the verifier is there for a reason: without it, this damage passes.
describe('the verifier without one of its checks', () => {
  const without = (name: CheckName) => CHECKS.filter((check) => check.name !== name);
  const foreign = sample(12, true);
  const redated = rewritten(foreign.lines.slice(0, 1), (record) => ({
    ...record,
    at: '2025-01-01T00:00:00.000Z',
  }));
  const renumbered = rewritten(sealed.lines, (record) => ({
    ...record,
    n: record.n > 5 ? record.n + 1 : record.n,
  }));
  const altered = Buffer.from(sealed.bytes.toString().replace('Boat store', 'Goat store'));

  test.each<[CheckName, Buffer]>([
    ['link', Buffer.concat([redated, ...linesOf(foreign.bytes).slice(1)])],
    ['number', renumbered],
    ['digest', altered],
  ])('%s: damage that only this check finds gets through', (name, damaged) => {
    expect(verdictOn(damaged).outcome).toBe('broken');
    expect(verdictOn(damaged, { checks: without(name) }).outcome).toBe('self-consistent');
  });

  test('form: a line that is no record is still stopped by the others', () => {
    const damaged = Buffer.concat([sealed.lines[0]!, Buffer.from('x\n'), ...sealed.lines.slice(1)]);
    expect(verdictOn(damaged, { checks: without('form') })).toMatchObject({ outcome: 'broken', firstBad: 1 });
  });
});
