import {
  chmodSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { keep, readKept } from '../source/kept-file.ts';

const scratch = mkdtempSync(join(tmpdir(), 'loopward-kept-'));
afterAll(() => rmSync(scratch, { recursive: true }));
let folder = '';
beforeEach(() => {
  folder = join(mkdtempSync(join(scratch, 'one-')), 'cache');
});

describe('what can be made anew', () => {
  test('is read as it was kept, byte by byte, and nothing else is left in the folder', () => {
    const bytes = Uint8Array.from({ length: 1000 }, (_, at) => at % 256);
    keep(folder, 'a.plan', bytes, 3);
    expect([...readKept(folder, 'a.plan')!]).toEqual([...bytes]);
    expect(readdirSync(folder)).toEqual(['a.plan']);
  });

  test('that was damaged by a single bit, cut short or never kept is not there', () => {
    keep(folder, 'a.plan', Buffer.from('whole'), 3);
    const whole = readFileSync(join(folder, 'a.plan'));
    for (let at = 0; at < whole.length; at++) {
      const damaged = Buffer.from(whole);
      damaged[at]! ^= 1;
      writeFileSync(join(folder, 'a.plan'), damaged);
      expect(readKept(folder, 'a.plan')).toBeUndefined();
    }
    for (const length of [0, 31, whole.length - 1]) {
      writeFileSync(join(folder, 'a.plan'), whole.subarray(0, length));
      expect(readKept(folder, 'a.plan')).toBeUndefined();
    }
    expect(readKept(folder, 'b.plan')).toBeUndefined();
  });

  test('in a folder that others may write to is neither read nor kept', () => {
    keep(folder, 'a.plan', Buffer.from('ours'), 3);
    chmodSync(folder, 0o777);
    expect(readKept(folder, 'a.plan')).toBeUndefined();
    keep(folder, 'b.plan', Buffer.from('theirs'), 3);
    expect(readdirSync(folder)).toEqual(['a.plan']);
  });

  test('gives way to what is newer of its own kind alone', () => {
    keep(folder, 'code.code', Buffer.from('code'), 2);
    for (const [age, name] of ['a', 'b', 'c', 'd'].entries()) {
      keep(folder, `${name}.plan`, Buffer.from(name), 2);
      utimesSync(join(folder, `${name}.plan`), age, age);
    }
    expect(readdirSync(folder).sort()).toEqual(['c.plan', 'code.code', 'd.plan']);
  });

  test('that cannot be kept stops nothing', () => {
    writeFileSync(join(scratch, 'a-file'), '');
    expect(() => keep(join(scratch, 'a-file'), 'a.plan', Buffer.from('x'), 2)).not.toThrow();
  });
});
