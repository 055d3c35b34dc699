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
