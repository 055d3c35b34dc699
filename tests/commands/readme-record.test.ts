import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { formatRecord, type JournalRecord } from '../../source/journal/record.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const readme = readFileSync(resolve(import.meta.dirname, '../../README.md'), 'utf8');
const section = readme.slice(
  readme.indexOf('### What the record proves'),
  readme.indexOf('## Simplifications'),
);
const home = folder();
const open = join(home, 'open');
const sealed = join(home, 'sealed');
const env = { LOOPWARD_HOME: home };

beforeAll(async () => {
  await run(['start', bundledFile(DEMO_SURVEY), '--job', open], { env });
  await run(['act', open, '{"do":"start-shift","name":"Ada Lovett","instrument":"meter 3"}']);
  await run(['act', open, '{"do":"note","text":"the first word"}']);
  await run(['act', open, '{"do":"note","text":"the last word"}']);
  await run(['rehearse', bundledFile(DEMO_SURVEY), '--seed', '3', '--job', sealed]);
}, 120_000);

const copy = (of: string): string => {
  const dir = join(folder(), 'job');
  cpSync(of, dir, { recursive: true });
  return dir;
};
const verify = async (dir: string, ...more: string[]) => {
  const { json, out } = await run(['verify', dir, '--json', ...more]);
  return { ...(json as { outcome: string; firstBad: number | null; head: string; says: string }), out };
};
const journalOf = (dir: string) => join(dir, 'journal.jsonl');
const linesOf = (dir: string) => readFileSync(journalOf(dir), 'utf8').trimEnd().split('\n');
function put(dir: string, lines: readonly string[]): void {
  rmSync(journalOf(dir));
  writeFileSync(journalOf(dir), `${lines.join('\n')}\n`);
}

/** The chain made anew over other words, as the owner of the file always can. */
function writtenAnew(dir: string, was: string, now: string): void {
  let prev = '0'.repeat(64);
  const lines = linesOf(dir).map((line) => {
    const { sha256: _, ...body } = JSON.parse(line.replaceAll(was, now)) as JournalRecord;
    const { bytes, record } = formatRecord({ ...body, prev });
    prev = record.sha256;
    return bytes.toString().trimEnd();
  });
  put(dir, lines);
}

/** Each sentence by how it begins, and what shows that it is so. */
const HOLDS: readonly [string, () => unknown][] = [
  [
    'A bit that flipped',
    async () => {
      const lines = linesOf(sealed);
      const edits = [
        lines.toSpliced(5, 1, lines[5]!.replace('"at":"2', '"at":"3')),
        lines.toSpliced(5, 1),
        lines.toSpliced(5, 2, lines[6]!, lines[5]!),
        lines.toSpliced(5, 0, lines[9]!),
      ];
      for (const edit of edits) {
        const dir = copy(sealed);
        put(dir, edit);
        expect(await verify(dir)).toMatchObject({ outcome: 'broken', firstBad: 5 });
      }
    },
  ],
  [
    'What stands behind damage',
    async () => {
      const dir = copy(open);
      put(
        dir,
        linesOf(dir).map((line) => line.replace('the first word', 'the worst word')),
      );
      expect((await run(['history', dir])).out).toMatch(/NOT PROVED, behind damage: Note: the last word/);
    },
  ],
  [
    'The end of an unsealed record',
    async () => {
      const dir = copy(open);
      put(dir, linesOf(dir).slice(0, -1));
      expect((await verify(dir)).outcome).toBe('truncated');
      rmSync(join(dir, '.saved'));
      expect((await verify(dir)).outcome).toBe('open');
      const damaged = copy(open);
      put(
        damaged,
        linesOf(damaged).map((line) => line.replace('the last word', 'the lost word')),
      );
      expect((await verify(damaged)).outcome).toBe('broken');
    },
  ],
  [
    'The owner of the laptop',
    async () => {
      const dir = copy(open);
      writtenAnew(dir, 'the first word', 'another word');
      expect((await verify(dir)).outcome).toBe('open');
    },
  ],
  [
    'So somebody else must hold the head',
    async () => {
      const { head } = await verify(open);
      const out = join(folder(), 'out');
      await run(['handover', open, '--out', out]);
      expect(readFileSync(join(out, 'handover.txt'), 'utf8')).toContain(`--head ${head}`);
      const dir = copy(open);
      writtenAnew(dir, 'the first word', 'another word');
      expect((await verify(dir, '--head', head)).outcome).toBe('replaced');
    },
  ],
  [
    'Only a sealed record',
    async () => {
      const { head } = await verify(sealed);
      const whole = await verify(sealed, '--head', head);
      expect(whole).toMatchObject({ outcome: 'intact', says: expect.stringContaining('Verified') });
      for (const { says } of [
        await verify(sealed),
        await verify(open),
        await verify(open, '--head', (await verify(open)).head),
      ])
        expect(says).not.toMatch(/verified/i);
    },
  ],
  [
    'A seal that was spoiled',
    async () => {
      const { head } = await verify(sealed);
      for (const text of ['', 'spoiled', null]) {
        const dir = copy(sealed);
        rmSync(join(dir, 'seal.txt'));
        if (text !== null) writeFileSync(join(dir, 'seal.txt'), text);
        const { json } = await run(['verify', dir, '--json']);
        expect(json).toMatchObject({
          outcome: 'broken',
          firstBad: null,
          verdicts: { record: { is: 'whole' } },
        });
        expect((await verify(dir, '--head', head)).outcome).toBe('intact');
      }
    },
  ],
  [
    'A name is shown only if',
    async () => {
      const dir = copy(open);
      const path = join(dir, 'private.json');
      writeFileSync(path, readFileSync(path, 'utf8').replace('Ada Lovett', 'Mallory'));
      expect((await verify(dir)).outcome).toBe('broken');
      expect((await run(['history', dir])).out).not.toContain('Mallory');
      rmSync(path);
      expect((await verify(dir)).outcome).toBe('open');
      expect((await run(['history', dir])).out).toContain('Working now: p1');
    },
  ],
  [
    'Of a job that a version before',
    async () => {
      const dir = copy(open);
      const lines = linesOf(dir).map((line) => {
        const { sha256: _, ...record } = JSON.parse(line) as JournalRecord;
        const { names: __, ...data } = record.data;
        return JSON.stringify({ ...record, data, sha256: '' });
      });
      put(dir, lines);
      writtenAnew(dir, 'nothing', 'nothing');
      expect((await run(['history', dir])).out).toContain('Working now: Ada Lovett');
      expect((await run(['verify', dir])).out).toMatch(
        /not bound by the record, .*: p1\. For these it proves nothing/,
      );
    },
  ],
  [
    'Nothing proves that what was typed',
    async () => {
      const { head } = await verify(sealed);
      expect((await verify(sealed, '--head', head)).says).toContain('not that what was entered is true');
    },
  ],
];

describe('what the README says of the record', () => {
  const sentences = section.split('\n').filter((line) => line.startsWith('- '));

  test('every sentence is held by a check, and no check is without its sentence', () => {
    expect(sentences).toHaveLength(HOLDS.length);
    for (const [i, [begins]] of HOLDS.entries()) expect(sentences[i]).toContain(`- ${begins}`);
  });

  test.each(HOLDS)(
    '%s: it is so',
    async (_, holds) => {
      await holds();
    },
    60_000,
  );

  test('every file that a job leaves stands in the table, and every folder beside it', async () => {
    const into = join(folder(), 'there');
    const dir = copy(open);
    writeFileSync(journalOf(dir), `${readFileSync(journalOf(dir), 'utf8')}{"at"`);
    await run(['act', dir, '{"do":"note","text":"after a crash"}']);
    await run(['carry-on', dir, '--job', into]);
    const names = [open, sealed, dir, into].flatMap((one) => readdirSync(one));
    for (const name of new Set(names)) {
      const told = name.replace(/torn-\d+$/, 'torn-N').replace(/^(locks|attachments)$/, '$1/');
      expect(readme).toContain(`\`${told}\``);
    }
    expect(names).toEqual(
      expect.arrayContaining(['continued.json', 'seal.txt', '.saved', 'journal.jsonl.torn-1']),
    );
    for (const name of readdirSync(home).filter((one) => one.startsWith('.')))
      expect(readme).toContain(`\`${name}/\``);
    expect(existsSync(join(home, '.ledger'))).toBe(true);
  });
});
