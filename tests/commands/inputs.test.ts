import { join } from 'node:path';
import { expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

type Inputs = { inputs: { input: string; name: string; shown: null | { state: string } }[] };

test('the input sheet of a job as text, CSV and JSON tells the same, with what was seen at rest', async () => {
  const env = { LOOPWARD_HOME: folder() };
  const dir = join(folder(), 'club');
  await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env });
  const before = (await run(['inputs', dir, '--json'])).json as Inputs;
  expect(before.inputs).toHaveLength(8);
  expect(before.inputs.every(({ shown }) => shown === null)).toBe(true);
  const text = (await run(['inputs', dir])).out;
  const [header, ...rows] = (await run(['inputs', dir, '--csv'])).out.split('\r\n');
  expect(header).toBe(
    'board,input,terminal,common,name,detectors,places,contact,rest,resistor_ohms,alarm_resistor_ohms,pulse_seconds,response_seconds,always,shown_at_rest',
  );
  for (const [at, { name }] of before.inputs.entries()) {
    expect(text).toContain(`    name      ${name}\n`);
    expect(rows[at]).toContain(`,${name},`);
  }
  expect(text).toContain('b1 input 8  (I8 and C4)');
  expect(text).toMatch(
    /normally open, no resistor, reports from 250 ms, 24-hour\n {4}at rest {3}open, not seen yet/,
  );
});

test('what was seen on the bench with a jumper is not what an input showed at rest; what was seen under power is', async () => {
  const dir = join(folder(), 'rehearsed');
  await run(['rehearse', bundledFile(DEMO_SURVEY), '--seed', '3', '--job', dir]);
  const { inputs } = (await run(['inputs', dir, '--json'])).json as Inputs;
  expect(inputs.map(({ shown }) => shown?.state)).toEqual([...Array(7).fill('closed'), 'open']);
});
