import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JsonObject } from '../../source/journal/canonical.ts';
import { Journal } from '../../source/journal/journal.ts';
import { LineReader } from '../../source/journal/lines.ts';
import { formatRecord, NO_DIGEST, parseRecord } from '../../source/journal/record.ts';
import { MemoryDisk } from './memory-disk.ts';
import { DIR } from './sample.ts';
import { fakeSystem } from './world.ts';

const body = { at: '2026-05-04T08:00:00.275Z', data: {}, kind: 'note', mono: 140, n: 1, prev: NO_DIGEST };

describe('a record', () => {
  test('of any data comes back as it went in', () => {
    const text = fc.string({ unit: 'grapheme' });
    const value = fc.letrec((tie) => ({
      value: fc.oneof(text, fc.maxSafeInteger(), fc.boolean(), fc.constant(null), tie('list'), tie('object')),
      list: fc.array(tie('value'), { maxLength: 4 }),
      object: fc.dictionary(text, tie('value'), { maxKeys: 4 }),
    })).object as fc.Arbitrary<JsonObject>;
    fc.assert(
      fc.property(value, (data) => {
        const { record, bytes } = formatRecord({ ...body, data });
        expect(bytes.indexOf(0x0a)).toBe(bytes.length - 1);
        const parsed = parseRecord(bytes.subarray(0, -1));
        expect(JSON.stringify(parsed)).toBe(bytes.toString().trimEnd());
        expect(parsed?.sha256).toBe(record.sha256);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  test('longer than a line may be is refused before anything is written', () => {
    const disk = new MemoryDisk();
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem(disk));
    expect(() => journal.append('note', { text: 'x'.repeat(70_000) })).toThrow('longer than the 65536');
    expect(journal.append('note', { text: 'x'.repeat(48 * 1024) }).n).toBe(1);
  });

  test('of a kind that is the journal’s own, or none, is refused', () => {
    const journal = Journal.create(DIR, { job: 'hsc-7' }, fakeSystem());
    for (const kind of ['open', 'seal', 'repair', 'clock', 'disk-full', 'checkpoint'])
      expect(() => journal.append(kind, {})).toThrow("the journal's own");
    for (const kind of ['', 'Note', 'a b', '-a', 'a"'])
      expect(() => journal.append(kind, {})).toThrow('no kind of record');
    expect(journal.head.count).toBe(1);
  });

  const line = formatRecord(body).bytes.toString().trimEnd();
  test.each([
    ['a member too many', line.replace('"kind"', '"extra":1,"kind"')],
    ['a member too few', line.replace('"mono":140,', '')],
    ['data that is no object', line.replace('"data":{}', '"data":[]')],
    ['a time that is none', line.replace('2026-05-04T', '2026-05-04 ')],
    ['a number that is a text', line.replace('"n":1', '"n":"1"')],
    ['a fraction', line.replace('"mono":140', '"mono":1.5')],
    ['no JSON', line.slice(1)],
    ['null', 'null'],
  ])('with %s is none', (_, text) => {
    expect(parseRecord(Buffer.from(line))).not.toBeNull();
    expect(parseRecord(Buffer.from(text))).toBeNull();
  });

  test('that is not UTF-8 is none', () => {
    const bytes = Buffer.from(line.replace('"data":{}', '"data":{"a":"x"}'));
    bytes[bytes.indexOf('"x"') + 1] = 0xff;
    expect(parseRecord(bytes)).toBeNull();
  });
});

describe('the lines of a file', () => {
  test('of any lengths come out whole from one buffer, with their places', () => {
    const lengths = fc.array(fc.oneof(fc.nat(40), fc.nat(65_535)), { maxLength: 30 });
    fc.assert(
      fc.property(lengths, fc.boolean(), fc.integer({ min: 500, max: 100_000 }), (sizes, isEnded, most) => {
        const lines = sizes.map((size, i) => String.fromCharCode(97 + (i % 26)).repeat(size));
        const text = lines.join('\n') + (isEnded ? '\n' : '');
        const bytes = Buffer.from(text);
        const disk = new MemoryDisk();
        // A read may give less than was asked for.
        disk.read = (_fd, into, offset, length, position) =>
          bytes.copy(into, offset, position, position + Math.min(length, most));
        const reader = new LineReader(disk, 0);
        const found: string[] = [];
        while (reader.next()) {
          found.push(reader.buffer.toString('latin1', reader.start, reader.end));
          expect(reader.offset).toBe(found.slice(0, -1).reduce((sum, line) => sum + line.length + 1, 0));
        }
        const expected = text.split('\n');
        if (expected.at(-1) === '') expected.pop();
        expect(found).toEqual(expected);
      }),
      { seed: 64, numRuns: 40 },
    );
  });
});
