import { describe, expect, test } from 'vitest';
import { Journal } from '../../source/journal/journal.ts';
import { SOUND } from '../../source/journal/verdict-words.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { MemoryDisk } from './memory-disk.ts';
import { DIR, sample, verdictOn } from './sample.ts';
import { fakeSystem, fill } from './world.ts';

describe('the words of a verdict', () => {
  const sealed = sample(8, true);
  const open = sample(8, false);
  const headOf = (count: number, of = sealed) =>
    `${count}:${(JSON.parse(of.lines[count - 1]!.toString()) as { sha256: string }).sha256}`;

  test('only intact is called verified', () => {
    const verdicts = [
      verdictOn(sealed.bytes, { head: sealed.head }),
      verdictOn(sealed.bytes),
      verdictOn(open.bytes),
      verdictOn(open.bytes, { head: open.head }),
      verdictOn(open.bytes.subarray(0, -9)),
      verdictOn(Buffer.from(sealed.bytes.toString().replace('Boat', 'Goat'))),
      verdictOn(sealed.bytes.subarray(0, -9), { head: sealed.head }),
      verdictOn(open.bytes, { head: sealed.head }),
      verdictOn(sealed.bytes, { head: headOf(5) }),
      verdictOn(Buffer.from('')),
    ];
    expect(verdicts.map(({ outcome }) => outcome)).toEqual([
      'intact',
      'self-consistent',
      'open',
      'open',
      'torn',
      'broken',
      'truncated',
      'replaced',
      'extended',
      'no-header',
    ]);
    for (const { outcome, says } of verdicts) expect(/\bverified\b/i.test(says)).toBe(outcome === 'intact');
    for (const { outcome, says } of verdicts) {
      expect(says).toMatch(/^[A-Z0-9].*\.$/);
      expect(SOUND.has(outcome)).toBe(['intact', 'self-consistent', 'open'].includes(outcome));
    }
  });

  test('a head handed out at a checkpoint covers all up to it, whatever was sealed later', () => {
    const disk = new MemoryDisk();
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk));
    fill(journal, 3);
    const { count, digest } = journal.checkpoint({ stage: 'split' });
    fill(journal, 2);
    const verdict = verifyJournal(DIR, { files: disk, head: `${count}:${digest}` });
    expect(verdict).toMatchObject({ outcome: 'extended', records: 7 });
    expect(verdict.says).toContain('The first 5 records are those');
    expect(verdict.says).toContain('2 more follow');
  });

  test('a bare digest is looked for in the whole chain', () => {
    expect(verdictOn(sealed.bytes, { head: sealed.head.split(':')[1]! }).outcome).toBe('intact');
    expect(verdictOn(sealed.bytes, { head: headOf(3).split(':')[1]! }).outcome).toBe('extended');
    expect(verdictOn(sealed.bytes, { head: 'ab'.repeat(32) }).says).toContain('cut short');
  });

  test('a count that does not belong to its digest is another journal', () => {
    expect(verdictOn(sealed.bytes, { head: `7:${sealed.head.split(':')[1]}` }).outcome).toBe('replaced');
    expect(verdictOn(sealed.bytes, { head: `9:${sealed.head.split(':')[1]}` }).outcome).toBe('truncated');
  });

  test('an open journal whose key is gone looks like a sealed one with its end cut off', () => {
    const { disk } = sample(4, false);
    expect(verifyJournal(DIR, { files: disk }).says).not.toContain('key');
    disk.unlink(`${DIR}/.key`);
    expect(verifyJournal(DIR, { files: disk }).says).toContain('Ask where the end is');
  });

  test('quick and full verification agree on what is whole', () => {
    for (const { bytes, head } of [sealed, open]) {
      const full = verdictOn(bytes, { head });
      expect(verdictOn(bytes, { head, full: false })).toEqual(full);
    }
  });

  test('a record that is written while the journal is read is no damage', () => {
    const disk = new MemoryDisk();
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk));
    fill(journal, 3);
    let meanwhile = 0;
    const files = new Proxy(disk, {
      get(target, name: keyof MemoryDisk) {
        const found = target[name];
        if (typeof found !== 'function') return found;
        return (...args: unknown[]) => {
          const result = (found as (...a: unknown[]) => unknown).apply(target, args);
          if (name === 'read' && result === 0 && meanwhile < 3) {
            meanwhile += 1;
            fill(journal, 1);
          }
          return result;
        };
      },
    });
    expect(verifyJournal(DIR, { files })).toMatchObject({ outcome: 'open', records: 4 });
    expect(meanwhile).toBeGreaterThan(0);
  });
});
