import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { folder } from '../job/small-job.ts';
import { seeded } from '../journal/world.ts';
import { report, scale } from '../scale.ts';
import { run } from './run.ts';

const SEED = 2407;
const made = join(folder(), 'demo');
let lines: string[] = [];

beforeAll(async () => {
  await run(['start', bundledFile(DEMO_SURVEY), '--job', made], { env: { LOOPWARD_HOME: folder() } });
  const act = (action: object) => run(['act', made, JSON.stringify(action)]);
  await act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  for (const word of ['first', 'second', 'third', 'fourth'])
    await act({ do: 'note', text: `the ${word} word` });
  lines = readFileSync(join(made, 'journal.jsonl'), 'utf8').trimEnd().split('\n');
});

/** The job with one bit of the text flipped that stands in the note of this word. */
function flipped(word: string): string {
  const dir = join(folder(), 'job');
  cpSync(made, dir, { recursive: true });
  const text = lines.join('\n').replace(`the ${word} word`, `the ${word} wore`);
  writeFileSync(join(dir, 'journal.jsonl'), `${text}\n`);
  return dir;
}

describe('what stands behind damage', () => {
  test('is told by the history, each record marked, and the command ends as damage does', async () => {
    const dir = flipped('second');
    const { code, out, err } = await run(['history', dir]);
    expect(code).toBe(4);
    expect(err).toMatch(/Record \d+ of journal\.jsonl is damaged: .*carry-on/);
    const told = out.split('\n').filter((line) => line.includes(' word') || line.includes(' wore'));
    expect(told.map((line) => line.includes('NOT PROVED, behind damage'))).toEqual([false, true, true, true]);
    const { json } = await run(['history', dir, '--json']);
    const { records } = json as { records: { n: number; proved: boolean }[] };
    const first = records.findIndex(({ proved }) => !proved);
    expect(records.map(({ n }) => n)).toEqual(lines.map((_, n) => n));
    expect(records.slice(first).every(({ proved }) => !proved)).toBe(true);
    expect(records).toHaveLength(lines.length);
  });

  test('is printed in the documents, marked, under a banner, and nothing else counts on it', async () => {
    const dir = flipped('second');
    const out = join(folder(), 'out');
    expect(await run(['handover', dir, '--out', out])).toMatchObject({ code: 4 });
    for (const name of ['handover.txt', 'handover.html']) {
      const text = readFileSync(join(out, name), 'utf8');
      expect(text).toMatch(/DAMAGED at record \d+: what stands behind it is not proved/);
      expect(text).toContain('NOT PROVED: Note: the third word');
      expect(text).toContain('NOT PROVED: Note: the fourth word');
      expect(text).not.toContain('NOT PROVED: Note: the first word');
    }
    const json = JSON.parse(readFileSync(join(out, 'handover.json'), 'utf8')) as { unproved: unknown[] };
    expect(json.unproved).toHaveLength(3);
  });

  test('stays shown where the job goes on elsewhere', async () => {
    const into = join(folder(), 'there');
    expect(await run(['carry-on', flipped('second'), '--job', into])).toMatchObject({ code: 0 });
    expect(await run(['act', into, '{"do":"note","text":"goes on"}'])).toMatchObject({ code: 0 });
    const { out, code } = await run(['history', into]);
    expect(code).toBe(0);
    expect(out).toMatch(/NOT PROVED, behind damage: .*the fourth word/);
    expect(out).toMatch(/ {2}Note: goes on/);
  });

  test('of a whole job there is nothing to mark', async () => {
    expect((await run(['history', made])).out).not.toContain('NOT PROVED');
    expect((await run(['history', made])).code).toBe(0);
  });

  test('any bit flipped: every record that can be read is told, none behind it as proved', async () => {
    const random = seeded(SEED);
    const flips = scale(400, 0.1);
    const bytes = readFileSync(join(made, 'journal.jsonl'));
    let hidden = 0;
    for (let flip = 0; flip < flips; flip += 1) {
      const at = Math.floor(random() * bytes.length);
      const damaged = Buffer.from(bytes);
      damaged[at]! ^= 1 << Math.floor(random() * 8);
      const dir = join(folder(), 'job');
      cpSync(made, dir, { recursive: true });
      writeFileSync(join(dir, 'journal.jsonl'), damaged);
      const { json, code } = await run(['history', dir, '--json']);
      const { records } = json as { records: { n: number; proved: boolean }[] };
      const firstBad = bytes.subarray(0, at).toString('latin1').split('\n').length - 1;
      const proved = records.filter((one) => one.proved);
      expect({ at, proved: proved.length }).toEqual({ at, proved: firstBad });
      // The one that was hit, and one more where the hit was the newline between two, may be past reading.
      hidden += lines.length - records.length;
      expect(lines.length - records.length).toBeLessThanOrEqual(2);
      if (firstBad < lines.length - 1) expect(code).toBe(4);
    }
    report(`any bit of a job flipped, seed ${SEED}`, [
      { flips, 'past reading': hidden, 'told as proved behind it': 0 },
    ]);
  }, 300_000);
});
