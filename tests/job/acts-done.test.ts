import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Acted, Next } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { Job } from '../../source/job/job.ts';
import { readJob } from '../../source/job/read-job.ts';
import { Replay } from '../../source/job/replay.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import { realSystem } from '../../source/journal/system.ts';
import { sayActDone } from '../../source/procedure/act-words.ts';
import { applyReopens, reopensOf } from '../../source/procedure/reopens.ts';
import { nextState } from '../../source/procedure/transition.ts';
import { run } from '../commands/run.ts';
import { drive } from '../drive.ts';
import { hasty } from '../handover/jobs.ts';
import { folder } from './small-job.ts';

/** The demo, driven until a step comes first. */
async function demoUntil(step: string, change: (text: string) => string = (text) => text): Promise<Job> {
  const dir = join(folder(), 'demo');
  const survey = join(folder(), 'survey.yaml');
  writeFileSync(survey, change(readFileSync(bundledFile(DEMO_SURVEY), 'utf8')));
  await run(['start', survey, '--board', 'eight-paired', '--job', dir], { system: hasty });
  const job = Job.open(dir, hasty, 'act');
  job.act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  await drive(job.next(), (action) => job.act(action), { until: (next) => next.open[0]?.id === step });
  return job;
}

const last = (job: Job): JournalRecord => job.lastRecord!;
const deviate = (step: string, more: object = {}) => ({
  do: 'deviate',
  step,
  reason: 'The screw is stripped.',
  residualRisk: 'It may read nonsense.',
  ...more,
});
const says = (acted: Acted) => ('malformed' in acted ? acted.malformed : acted);

test('an answer that passes and leaves an act undone says so in the record: the old board that stays', async () => {
  const job = await demoUntil('clear.panel', (text) => text.replace('kind: smoke', 'kind: technical'));
  const [card] = job.next().open;
  const remove = { do: 'remove', what: 'panel' };
  expect(card?.acts).toMatchObject([remove]);
  const acted = job.act({
    do: 'confirm',
    step: 'clear.panel',
    values: { board: 'stays', 'head:heads': 'down', bond: 'kept' },
  });
  expect(acted).toMatchObject({ outcome: 'passed' });
  expect(job.results.get('clear.panel')!.at(-1)!.acts).toEqual([{ act: remove, went: 'not-done' }]);
  job.close();
});

describe('what was done stands in the record', () => {
  let job: Job;
  let next: Next;
  beforeAll(async () => {
    job = await demoUntil('resistors.z1');
    next = job.next();
  });

  test('a step that passed keeps its acts; what has none keeps none', () => {
    const lift = job.results.get('measure.z1')!.at(-1)!;
    expect(lift.acts).toEqual([{ act: { do: 'lift', conductor: 'c1/1', at: '7' }, went: 'done' }]);
    expect(job.results.get('plan.accept')!.at(-1)!.acts).toBeNull();
    const recorded = [...readRecords(job.dir)].find(
      ({ data }) => data.step === 'measure.z1' && data.do === 'confirm',
    );
    expect(recorded?.data.acts).toEqual([{ do: 'lift', conductor: 'c1/1', at: '7' }]);
  });

  test('next names each act, and who deviates answers them by that name', () => {
    const [card] = next.open;
    expect(card?.acts.map(({ key }) => key)).toEqual(['remove-resistor z1.end-of-line']);
    expect(
      'outcome' in job.act(deviate('resistors.z1', { acts: [{ act: card!.acts[0]!.key, how: 'done' }] })),
    ).toBe(true);
    expect(
      job.results
        .get('resistors.z1')!
        .at(-1)!
        .acts?.map(({ went }) => went),
    ).toEqual(['done']);
  });

  test('of an act that is left out nobody can say', () => {
    job.act(deviate('resistors.z2'));
    expect(
      job.results
        .get('resistors.z2')!
        .at(-1)!
        .acts?.map(({ went }) => went),
    ).toEqual(['unknown']);
    expect(last(job).data.acts).toMatchObject([{ do: 'remove-resistor', went: 'unknown' }]);
  });

  test('what is no act of the step, or said twice, is told with the names there are, and nothing is recorded', () => {
    const before = last(job).n;
    const named = 'remove-resistor z3.end-of-line';
    expect(says(job.act(deviate('resistors.z3', { acts: [{ act: 'lift c1/1', how: 'done' }] })))).toContain(
      named,
    );
    const twice = [
      { act: named, how: 'done' },
      { act: named, how: 'not-done' },
    ];
    expect(says(job.act(deviate('resistors.z3', { acts: twice })))).toContain('twice');
    expect(says(job.act(deviate('walk.loft', { acts: [{ act: named, how: 'done' }] })))).toContain(
      'Leave "acts" out',
    );
    expect(says(job.act(deviate('resistors.z3', { acts: [{ act: named, how: 'perhaps' }] })))).toContain(
      'acts.0.how',
    );
    expect(last(job).n).toBe(before);
  });

  test('history says how far it was done', async () => {
    job.act(deviate('resistors.z3', { acts: [{ act: 'remove-resistor z3.end-of-line', how: 'not-done' }] }));
    const { out } = await run(['history', job.dir, '--step', 'resistors.z3']);
    expect(out).toContain('not done: the resistor of z3 taken out');
  });

  test('every act of the demo has a name of its own within its card, and words', () => {
    for (const { id, acts } of job.procedure.steps) {
      const keys = new Set(
        job
          .next()
          .open.find((one) => one.id === id)
          ?.acts.map(({ key }) => key),
      );
      if (keys.size > 0) expect(keys.size, id).toBe(acts.length);
      for (const act of acts) expect(sayActDone(act), id).toMatch(/\w+ \w+/);
    }
  });
});

describe('what reopens steps names them in its record', () => {
  test('a reopened step: which steps then stand how, and what is to be proved', async () => {
    const job = await demoUntil('resistors.z2');
    job.act({ do: 'reopen', step: 'measure.z1', reason: 'Another wire.' });
    expect(last(job).data.reopens).toEqual({
      steps: { unknown: ['measure.z1', 'resistors.z1'] },
      choices: [],
      supply: 'dead',
      owed: 'none',
    });
    job.close();
  });

  test('replay does what the record says, whatever this version would reopen', async () => {
    const job = await demoUntil('resistors.z2');
    job.act({ do: 'reopen', step: 'measure.z1', reason: 'Another wire.' });
    const records = [...readRecords(job.dir)];
    const other = (record: JournalRecord): JournalRecord => {
      if (record.data.do !== 'reopen') return record;
      const reopens = { steps: { failed: ['measure.z1'] }, choices: [], supply: 'unproven', owed: 'full' };
      return { ...record, data: { ...record.data, reopens } };
    };
    const replayed = (change: (record: JournalRecord) => JournalRecord) => {
      const replay = new Replay();
      for (const record of records) replay.take(change(record));
      return replay.state;
    };
    expect(replayed((one) => one)).toEqual(job.state);
    const told = replayed(other);
    expect([told.context.status['measure.z1'], told.context.status['resistors.z1']]).toEqual([
      'failed',
      'done',
    ]);
    expect([told.supply, told.context.owed]).toEqual(['unproven', 'full']);
    // A record of before says nothing, and the steps follow from those that are stored.
    const silent = replayed((one) => {
      const { reopens: _, ...data } = one.data;
      return { ...one, data };
    });
    expect(silent).toEqual(job.state);
    job.close();
  });

  test('so does a corrected survey', async () => {
    const job = await demoUntil('resistors.z2');
    const set = [{ path: 'zones.z1.loop.resistor', value: '4k7' }];
    job.act({ do: 'correct', reason: 'Read off it.', set });
    const { reopens } = last(job).data as { reopens: { steps: object } };
    expect(reopens.steps).toEqual({ unknown: ['resistors.z1'] });
    expect(readJob(job.dir).state).toEqual(job.state);
    job.close();
  });

  test('what the record says is what the machine did, for every step that can be reopened', async () => {
    const job = await demoUntil('rewire.c5');
    const { procedure, state } = job;
    let reopened = 0;
    for (const { id } of procedure.steps) {
      const after = nextState(procedure, state, { type: 'reopen', step: id });
      if (after !== state) reopened += 1;
      expect(applyReopens(procedure, state, reopensOf(state, after)), id).toEqual(after);
    }
    expect(reopened).toBeGreaterThan(40);
    job.close();
  });
});

test('a record with acts holds no fraction and stays one line of the journal', async () => {
  const job = await demoUntil('clear.aux');
  const lines = readFileSync(join(job.dir, 'journal.jsonl'), 'utf8').split('\n');
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThan(64 * 1024);
  job.close();
  expect(Job.open(job.dir, realSystem(), 'act').results.get('split.z1')?.at(-1)?.acts).toHaveLength(1);
});
