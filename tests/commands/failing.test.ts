import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Acted, Next, OpenStep, TypedValue } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { Job } from '../../source/job/job.ts';
import { readJob } from '../../source/job/read-job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { answersTo, drive } from '../drive.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const dir = join(folder(), 'demo');
let step: OpenStep;

beforeAll(async () => {
  await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env: { LOOPWARD_HOME: folder() } });
  const job = Job.open(dir, realSystem(), 'act');
  job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
  const until = (next: Next) => next.open[0]?.id === 'resistors.z2';
  const { next } = await drive(job.next(), (action) => job.act(action), { until });
  step = next.open[0]!;
  job.close();
});

/** The card's answers with every closed loop read as this. */
function readingAs(ohms: string): Record<string, TypedValue> {
  const closed = step.proof.filter((proof) => proof.kind === 'reading' && proof.open === 'no');
  expect(closed.length).toBeGreaterThan(0);
  return { ...answersTo(step), ...Object.fromEntries(closed.map((proof) => [proof.field, ohms])) };
}

const act = (values: Record<string, TypedValue>, more: object = {}) =>
  run(['act', dir, JSON.stringify({ do: 'confirm', step: step.id, values, ...more }), '--json']);

describe('a value that does not fit', () => {
  test('outside its usable window it is recorded, the step failed, causes named, exit 3', async () => {
    const { code, json } = await act(readingAs('2203 ohm'));
    expect(code).toBe(3);
    const acted = json as Extract<Acted, { outcome: string }>;
    expect(acted).toMatchObject({ outcome: 'failed', records: [expect.any(Number)] });
    expect(acted.causes.length).toBeGreaterThan(0);
    expect(acted.causes.map(({ cause }) => cause).join(' ')).toMatch(/resistor/);
    for (const cause of acted.causes) expect(cause.says.length * cause.try.length).toBeGreaterThan(0);
    expect(readJob(dir).state.context.status[step.id]).toBe('failed');
  });

  test('in words it tells the causes, on standard output', async () => {
    const { code, out } = await run([
      'act',
      dir,
      JSON.stringify({ do: 'confirm', step: step.id, values: readingAs('2.203 k') }),
    ]);
    expect(code).toBe(3);
    expect(out).toMatch(/^failed, record \d+/);
    expect(out.split('\n').length).toBeGreaterThan(2);
  });

  test('outside its expected window alone it passes, and causes are named, exit 0', async () => {
    const { code, json } = await act(readingAs('30 ohm'));
    expect(code).toBe(0);
    const acted = json as Extract<Acted, { outcome: string }>;
    expect(acted.outcome).toBe('passed');
    expect(acted.causes.length).toBeGreaterThan(0);
  });

  test('every try is kept, the first first', () => {
    const tries = readJob(dir).results.get(step.id) ?? [];
    expect(tries.map(({ outcome }) => outcome)).toEqual(['failed', 'failed', 'passed']);
    const typed = tries.map(
      ({ values }) => Object.values(values).find((value) => value.unit === 'ohm' && !value.open)?.typed,
    );
    expect(typed).toEqual(['2203 ohm', '2.203 k', '30 ohm']);
  });

  test('what is no figure is malformed and leaves no record', async () => {
    const count = readJob(dir).lastRecord?.n;
    await run(['act', dir, JSON.stringify({ do: 'reopen', step: step.id, reason: 'once more' })]);
    for (const wrong of ['', 'about two', '2 V', '1,234', 'e9']) {
      expect((await act(readingAs(wrong))).code).toBe(2);
    }
    expect(readJob(dir).lastRecord?.n).toBe((count ?? 0) + 1);
  });
});
