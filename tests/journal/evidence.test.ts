import { describe, expect, test } from 'vitest';
import { codeToScan, parseHead } from '../../source/journal/head.ts';
import { Journal } from '../../source/journal/journal.ts';
import { SOUND } from '../../source/journal/verdict-words.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report } from '../scale.ts';
import type { MemoryDisk } from './memory-disk.ts';
import { DIR, PATH, type Sample, sample } from './sample.ts';
import { fakeSystem, fill, seeded } from './world.ts';

const SEAL = `${DIR}/seal.txt`;
const KEY = `${DIR}/.key`;
const SAVED = `${DIR}/.saved`;
const sealOf = ({ disk }: Pick<Sample, 'disk'>) => disk.bytes(SEAL).toString();

/** Everything that may befall a seal, and what it then shows by itself. */
const SPOILED: readonly [string, (text: string, other: string) => string | null, string][] = [
  ['left as it was', (text) => text, 'good'],
  ['sent by mail, with other line ends', (text) => text.replaceAll('\n', '\r\n'), 'good'],
  ['co-signed by somebody else', (text) => `${text}— customer AAAAAAAA\n`, 'good'],
  ['gone', () => null, 'missing'],
  ['emptied', () => '', 'unreadable'],
  ['a blank line', () => '\n', 'unreadable'],
  ['noise', () => '\0\u0001\u0002\uFFFD', 'unreadable'],
  ['a letter', () => 'Dear customer,\n\nthe work is done.\n', 'unreadable'],
  ['cut after its first line', (text) => `${text.split('\n')[0]}\n`, 'unreadable'],
  ['cut before its signature', (text) => text.slice(0, text.indexOf('— ')), 'not-signed'],
  ['cut within its signature', (text) => text.slice(0, -12), 'not-signed'],
  ['without its count', (text) => text.replace(/\n\d+\n/, '\n\n'), 'unreadable'],
  ['with another count', (text) => text.replace(/\n\d+\n/, '\n999\n'), 'not-signed'],
  ['with a count of nothing', (text) => text.replace(/\n\d+\n/, '\n0\n'), 'not-signed'],
  ['with another digest', (text) => text.replace(/\n[A-Za-z0-9+/]{4}/, '\nAAAA'), 'not-signed'],
  ['of another job', (_, other) => other, 'not-signed'],
  [
    'with the signature of another',
    (text, other) => text.split('\n\n')[0]! + other.slice(other.indexOf('\n\n')),
    'not-signed',
  ],
  ['with a signature of zeros', (text) => text.replace(/(— \S+ ).*/, `$1${'A'.repeat(92)}`), 'not-signed'],
  ['twice', (text) => text + text, 'not-signed'],
  ['a megabyte', () => 'x'.repeat(1_000_000), 'unreadable'],
];

describe('a seal that was spoiled', () => {
  const sealed = () => sample(8, true);
  const other = sealOf(sample(6, true));

  test.each(SPOILED)(
    '%s: the records are not accused, and with a head from outside it is as good',
    (_, spoil, is) => {
      const { disk, head } = sealed();
      const text = spoil(disk.bytes(SEAL).toString(), other);
      if (text === null) disk.unlink(SEAL);
      else disk.put(SEAL, Buffer.from(text));
      const by = verifyJournal(DIR, { files: disk, head });
      expect(by).toMatchObject({
        outcome: 'intact',
        verdicts: { record: { is: 'whole' }, seal: { is }, head: { is: 'same' } },
      });
      const alone = verifyJournal(DIR, { files: disk });
      expect(alone).toMatchObject({ records: 8, verdicts: { record: { is: 'whole' }, seal: { is } } });
      expect(alone.outcome).toBe(is === 'good' ? 'self-consistent' : 'broken');
      expect(alone.says).not.toMatch(/missing from|are missing|Another journal/);
      for (const { says } of Object.values(by.verdicts)) expect(says).toMatch(/^[A-Z0-9s].*\.$/);
    },
  );

  test('any byte of it changed: never a word against the records, never a better outcome', () => {
    const random = seeded(24);
    const counts: Record<string, number> = {};
    const { disk, head } = sealed();
    const good = Buffer.from(disk.bytes(SEAL));
    for (let at = 0; at < good.length; at += 1) {
      const bytes = Buffer.from(good);
      bytes[at]! ^= 1 << Math.floor(random() * 8);
      disk.put(SEAL, bytes);
      const { outcome, verdicts } = verifyJournal(DIR, { files: disk });
      counts[`${outcome}, seal ${verdicts.seal.is}`] =
        (counts[`${outcome}, seal ${verdicts.seal.is}`] ?? 0) + 1;
      expect(verdicts.record.is).toBe('whole');
      expect(outcome).toBe('broken');
      expect(verifyJournal(DIR, { files: disk, head }).outcome).toBe('intact');
    }
    report('a bit of every byte of a seal flipped, seed 24', [{ flips: good.length, ...counts }]);
  });
});

describe('evidence that is taken away', () => {
  const RANK = (disk: MemoryDisk, head?: string) =>
    SOUND.has(verifyJournal(DIR, { files: disk, ...(head === undefined ? {} : { head }) }).outcome) ? 1 : 0;
  const withOther = () => {
    const { disk } = sample(8, true);
    // A chain written anew over the same key's seal.
    const forged = sample(8, true);
    disk.put(PATH, forged.disk.bytes(PATH));
    return disk;
  };
  const cut = (of: Sample, lines: number) => {
    of.disk.put(PATH, Buffer.concat(of.lines.slice(0, -lines)));
    return of.disk;
  };
  const SCENES: readonly [string, () => MemoryDisk][] = [
    ['sealed', () => sample(8, true).disk],
    ['open', () => sample(8, false).disk],
    ['sealed and cut at a record', () => cut(sample(8, true), 1)],
    ['sealed and cut by three records', () => cut(sample(8, true), 3)],
    ['sealed and written anew', withOther],
    [
      'sealed, its seal spoiled',
      () => {
        const { disk } = sample(8, true);
        disk.put(SEAL, Buffer.from('spoiled'));
        return disk;
      },
    ],
  ];

  // Of a record that was never sealed, what tells how far it was saved can be taken away with the end: only a head from
  // outside shows that, and the verdict says so.
  test.each(SCENES)(
    '%s: nothing deleted from beside the record makes a verdict pass that did not',
    (_, scene) => {
      const names = [SEAL, KEY, SAVED, `${DIR}/.reserve`];
      for (let mask = 0; mask < 1 << names.length; mask += 1) {
        const disk = scene();
        const before = RANK(disk);
        for (const [bit, name] of names.entries())
          if (mask & (1 << bit) && disk.names.has(name)) disk.unlink(name);
        expect({ mask, worse: RANK(disk) <= before }).toEqual({ mask, worse: true });
      }
    },
  );

  test('a sealed record that was cut takes no more records, with its seal or without', () => {
    for (const hide of [false, true]) {
      const disk = cut(sample(8, true), 1);
      if (hide) disk.unlink(SEAL);
      expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow(
        hide ? 'its key is gone' : 'speaks of 8 records',
      );
      expect(verifyJournal(DIR, { files: disk }).outcome).toBe('truncated');
    }
  });
});

describe('the end of an open record', () => {
  test('any bit of the last record that was saved: damage, not something that was never finished', () => {
    const { disk, bytes, lines } = sample(8, false);
    const from = bytes.length - lines.at(-1)!.length;
    for (let at = from; at < bytes.length; at += 1) {
      const damaged = Buffer.from(bytes);
      damaged[at]! ^= 1 << (at % 8);
      disk.put(PATH, damaged);
      expect(verifyJournal(DIR, { files: disk })).toMatchObject({ firstBad: 7 });
      expect(['broken', 'truncated']).toContain(verifyJournal(DIR, { files: disk }).outcome);
      disk.names.get(PATH)!.mode = 0o600;
      expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow(
        '8 records of this job were saved, and 7 are here',
      );
      expect(disk.bytes(PATH).equals(damaged)).toBe(true);
    }
  });

  test('cut off at a record: told without any head from outside, and not written on', () => {
    const { disk, lines } = sample(8, false);
    disk.put(PATH, Buffer.concat(lines.slice(0, -2)));
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'truncated', firstBad: 6 });
    expect(verifyJournal(DIR, { files: disk }).says).toContain('8 had been saved');
    expect(() => Journal.open(DIR, fakeSystem(disk))).toThrow('8 records of this job were saved');
  });

  test('never finished, as a kill leaves it, is mended as before', () => {
    const { disk, bytes } = sample(8, false);
    disk.put(PATH, Buffer.concat([bytes, Buffer.from('{"at":"2026')]));
    expect(verifyJournal(DIR, { files: disk }).outcome).toBe('torn');
    Journal.open(DIR, fakeSystem(disk)).close();
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', repaired: true });
  });

  test.each(['', '8', '         999:ab\n', '{"count":99}', '\0'.repeat(80)])(
    'a note of it that was spoiled (%j) accuses nobody',
    (text) => {
      const { disk } = sample(8, false);
      disk.put(SAVED, Buffer.from(text));
      expect(verifyJournal(DIR, { files: disk }).outcome).toBe('open');
      const journal = Journal.open(DIR, fakeSystem(disk));
      fill(journal, 2);
      journal.close();
      expect(verifyJournal(DIR, { files: disk })).toMatchObject({ outcome: 'open', records: 10 });
    },
  );
});

describe('the code that is scanned', () => {
  const { disk, head } = sample(8, true);
  const { count, digest } = parseHead(head)!;
  const code = codeToScan('hsc-7', { count: count!, digest });

  test('is a head as it is, and proves no other job', () => {
    expect(verifyJournal(DIR, { files: disk, head: code }).outcome).toBe('intact');
    expect(verifyJournal(DIR, { files: disk, head: ` ${code}\n` }).outcome).toBe('intact');
    const foreign = verifyJournal(DIR, { files: disk, head: codeToScan('hsc-8', { count: count!, digest }) });
    expect(foreign).toMatchObject({ outcome: 'replaced', verdicts: { head: { is: 'other' } } });
    expect(foreign.says).toContain('job hsc-8');
  });

  test.each([`loopward/journal@2 hsc-7 8 ${digest}`, `loopward/journal@1 hsc-7 ${digest}`, `${code}0`])(
    '%s is none',
    (text) => expect(parseHead(text)).toBeNull(),
  );
});
