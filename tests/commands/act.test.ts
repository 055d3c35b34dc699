import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Acted } from '../../source/job/action.ts';
import { type SmallJob, smallJob } from '../job/small-job.ts';
import { run } from './run.ts';

const shift = JSON.stringify({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });

/** A small job that no program holds. */
function free(): SmallJob {
  const small = smallJob();
  small.job.close();
  return small;
}

describe('act', () => {
  test.each([
    ['a shift', shift, 0],
    ['a note', '{"do":"note","text":"rain"}', 0],
    ['no JSON', 'do it', 2],
    ['no action', '{"do":"dance"}', 2],
    ['no such step', '{"do":"confirm","step":"x","values":{}}', 2],
    ['a shut gate', '{"do":"confirm","step":"measure.z1","values":{"word":"1"}}', 3],
    ['a challenge', '{"do":"note","text":"code 471199"}', 3],
    ['what makes no record', '{"do":"confirm","step":"measure.z1","values":"all"}', 2],
  ])('%s exits by the table', async (_, action, code) => {
    const { dir } = free();
    const plain = await run(['act', dir, action]);
    expect(plain.code).toBe(code);
    expect(code === 0 ? plain.err : plain.out).toBe('');
    const json = await run(['act', dir, action, '--json']);
    expect(json.code).toBe(code);
    expect(json.err).toBe('');
    expect(json.json).toMatchObject({ format: 'loopward/acted@1' });
  });

  test('a failed step exits 3 and is recorded', async () => {
    const { dir } = free();
    const lines = [shift, '{"do":"confirm","step":"life-safety.decision","values":{"way":"not-sure"}}'];
    const { code, out } = await run(['act', dir, '-'], { input: lines.join('\n') });
    expect(code).toBe(3);
    expect(out.split('\n').map((line) => (JSON.parse(line) as { outcome: string }).outcome)).toEqual([
      'recorded',
      'failed',
    ]);
  });

  test('on standard input one line is one action and one answer, whatever it is', async () => {
    const { dir } = free();
    const lines = [
      shift,
      '',
      'nonsense',
      '{"do":"doubt"}',
      '{"do":"confirm","step":"measure.z1","values":{}}',
      '  ',
    ];
    const { out, code } = await run(['act', dir, '-'], { input: lines.join('\n') });
    const answers = out.split('\n').map((line) => JSON.parse(line) as Acted);
    expect(answers).toHaveLength(4);
    expect(answers.map((one) => Object.keys(one)[1])).toEqual(['outcome', 'malformed', 'outcome', 'refused']);
    expect(code).toBe(3);
  });

  test('writing to a job that another program holds is exit 3, and says so', async () => {
    const small = free();
    const { Job } = await import('../../source/job/job.ts');
    const { realSystem } = await import('../../source/journal/system.ts');
    const holder = Job.open(small.dir, realSystem(), 'act');
    try {
      const { code, err } = await run(['act', small.dir, shift]);
      expect(code).toBe(3);
      expect(err).toMatch(/\w+/);
      expect((await run(['next', small.dir, '--json'])).code).toBe(0);
      expect((await run(['history', small.dir, '--json'])).code).toBe(0);
    } finally {
      holder.close();
    }
    expect((await run(['act', small.dir, shift])).code).toBe(0);
  });

  test('leaving for the night hands out a head that proves later that nothing before it was cut', async () => {
    const { dir } = free();
    await run(['act', dir, shift]);
    const left = await run(['act', dir, '{"do":"leave","values":{}}', '--json']);
    const { head } = left.json as { head: string };
    expect(head).toMatch(/^\d+:[0-9a-f]{64}$/);
    const outcome = async () => {
      const { code, json } = await run(['verify', dir, '--head', head, '--json']);
      return [code, (json as { outcome: string }).outcome];
    };
    expect(await outcome()).toEqual([0, 'open']);
    expect((await run(['act', dir, '{"do":"leave","values":{}}'])).out).toContain('Keep it outside');
    expect(await outcome()).toEqual([4, 'extended']);
    const path = join(dir, 'journal.jsonl');
    const lines = readFileSync(path, 'utf8').trimEnd().split('\n');
    writeFileSync(path, `${lines.slice(0, Number(head.split(':')[0]) - 1).join('\n')}\n`);
    expect(await outcome()).toEqual([4, 'truncated']);
    // The folder itself knows how far it was saved, for as long as nobody takes that away as well.
    expect((await run(['verify', dir])).code).toBe(4);
    rmSync(join(dir, '.saved'));
    expect((await run(['verify', dir])).code).toBe(0);
  });

  test('reading writes nothing', async () => {
    const { dir } = free();
    const { readdirSync, statSync } = await import('node:fs');
    const look = () => readdirSync(dir).map((name) => [name, statSync(join(dir, name)).mtimeMs]);
    const before = look();
    await run(['next', dir]);
    await run(['history', dir]);
    expect(look()).toEqual(before);
  });
});

describe('a journal that is not as it was', () => {
  test('history tells the good records and exits 4; next and act exit 4; nothing writes to it again', async () => {
    const { dir } = free();
    await run(['act', dir, shift]);
    const path = join(dir, 'journal.jsonl');
    const lines = readFileSync(path, 'utf8').split('\n');
    const last = lines.findLastIndex((line) => line.includes('"start-shift"'));
    lines[last - 1] = (lines[last - 1] ?? '').replace('new-sitting', 'now-sitting');
    writeFileSync(path, lines.join('\n'));
    const before = readFileSync(path);
    const told = await run(['history', dir]);
    expect(told.code).toBe(4);
    // What stands before the damage is told as it is; what comes behind it is told, and marked.
    const [sound = '', behind = ''] = told.out.split(/^.*NOT PROVED.*$/m);
    expect(sound.trimEnd().split('\n')).toHaveLength(last - 1);
    expect(told.out).toContain('NOT PROVED');
    expect(behind).not.toBe('');
    for (const argv of [
      ['next', dir],
      ['act', dir, shift],
      ['verify', dir],
    ]) {
      const { code, err, out } = await run(argv);
      expect(code).toBe(4);
      expect(err + out).toMatch(/damaged|broken/i);
      expect(err).not.toMatch(/\n\s+at /);
    }
    expect(readFileSync(path).equals(before)).toBe(true);
  });

  test('a torn end is mended by the next act and told in the record', async () => {
    const { dir } = free();
    await run(['act', dir, shift]);
    const path = join(dir, 'journal.jsonl');
    writeFileSync(path, Buffer.concat([readFileSync(path), Buffer.from('{"at":"2026-05-04T08')]));
    expect((await run(['next', dir, '--json'])).code).toBe(0);
    expect((await run(['act', dir, '{"do":"note","text":"after"}'])).code).toBe(0);
    const { out } = await run(['history', dir, '--json', '--kind', 'repair']);
    expect(out).toContain('"dropped":20');
  });

  test('an altered attachment fails verification', async () => {
    const { dir } = free();
    const picture = join(dir, '..', 'picture.png');
    writeFileSync(picture, 'as it was');
    const { json } = await run(['act', dir, JSON.stringify({ do: 'photo', path: picture }), '--json']);
    expect(json).toMatchObject({ outcome: 'recorded' });
    expect((await run(['verify', dir])).code).toBe(0);
    const [name = ''] = readdirSync(join(dir, 'attachments'));
    writeFileSync(join(dir, 'attachments', name), 'as it is.');
    expect((await run(['verify', dir])).code).toBe(4);
  });

  test('a journal by itself is read by history and verify alone', async () => {
    const { dir } = free();
    const bare = join(dir, 'journal.jsonl');
    expect((await run(['history', bare])).code).toBe(0);
    expect((await run(['verify', bare])).code).toBe(0);
    expect((await run(['act', bare, shift])).code).toBe(2);
    expect((await run(['next', bare])).code).toBe(2);
  });
});
