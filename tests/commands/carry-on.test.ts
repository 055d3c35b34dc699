import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Next } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const shift = '{"do":"start-shift","name":"Robin","instrument":"bench meter"}';

async function begun(): Promise<string> {
  const dir = join(folder(), 'job');
  expect(await run(['start', bundledFile(DEMO_SURVEY), '--job', dir])).toMatchObject({ code: 0 });
  expect(await run(['act', dir, shift])).toMatchObject({ code: 0 });
  return dir;
}

test('a job goes on in another folder, linked to what was saved; the old folder takes no more', async () => {
  const dir = await begun();
  const into = join(folder(), 'elsewhere');
  expect(await run(['carry-on', dir, '--job', into])).toMatchObject({ code: 0, err: '' });
  const [here, there] = await Promise.all(
    ['next', 'next'].map((c, i) => run([c, [dir, into][i]!, '--json'])),
  );
  expect((there!.json as Next).doneSteps).toEqual((here!.json as Next).doneSteps);
  expect(await run(['act', into, '{"do":"note","text":"on the stick now"}'])).toMatchObject({ code: 0 });
  expect(await run(['verify', into])).toMatchObject({ code: 0 });
  expect((await run(['history', into, '--person', 'Robin'])).out).toContain('Working now: Robin');
  expect((await run(['act', dir, '{"do":"note","text":"too late"}'])).code).not.toBe(0);
});

test('a job that is damaged goes on after its last good record, and the damage stays in the verdict', async () => {
  const dir = await begun();
  const journal = join(dir, 'journal.jsonl');
  const lines = readFileSync(journal, 'utf8').trimEnd().split('\n');
  const damaged = lines.map((line, n) =>
    n === lines.length - 2 ? line.replace('"at":"2', '"at":"3') : line,
  );
  writeFileSync(journal, `${damaged.join('\n')}\n`);
  expect(await run(['act', dir, '{"do":"note","text":"no"}'])).toMatchObject({ code: 4 });
  const into = join(folder(), 'mended');
  expect(await run(['carry-on', dir, '--job', into])).toMatchObject({ code: 0 });
  expect(await run(['act', into, '{"do":"note","text":"goes on"}'])).toMatchObject({ code: 0 });
  const verdict = await run(['verify', into, '--json']);
  expect(verdict).toMatchObject({ code: 4, json: { outcome: 'broken', firstBad: lines.length - 2 } });
  expect((await run(['history', into])).out).toContain('goes on');
});

test('it says what is wrong: no folder, a folder that holds something', async () => {
  const dir = await begun();
  expect(await run(['carry-on', dir])).toMatchObject({
    code: 2,
    err: expect.stringContaining('--job FOLDER'),
  });
  expect(await run(['carry-on', dir, '--job', dir])).toMatchObject({ code: 2 });
});
