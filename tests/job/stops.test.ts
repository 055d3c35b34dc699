import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Action, OpenStep } from '../../source/job/action.ts';
import { carryOnIn } from '../../source/job/carry-on.ts';
import { Job } from '../../source/job/job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { STOPS } from '../../source/procedure/stop-table.ts';
import { answersTo, drive } from '../drive.ts';
import { demoJob, SHIFT } from './demo-job.ts';
import { folder } from './small-job.ts';

const SHUT = new RegExp([...Object.values(STOPS).map(({ says }) => says), 'is not asked for now'].join('|'));

async function demoAt(
  step: string,
): Promise<{ job: Job; card: OpenStep; values: ReturnType<typeof answersTo> }> {
  const job = demoJob();
  await drive(job.next(), (action) => job.act(action), {
    until: (next) => next.open.some(({ id }) => id === step) && next.open[0]?.id === step,
  });
  const card = job.next().open.find(({ id }) => id === step);
  if (card === undefined) throw new Error(`${step} is not open.`);
  return { job, card, values: answersTo(card) };
}

const risk = {
  reason: 'the owner wants it done today',
  residualRisk: 'somebody may be hurt by what was met',
};
const refusals = (job: Job, actions: readonly Action[]) =>
  actions.map((action) => {
    const acted = job.act(action);
    return 'because' in acted
      ? acted.because.join(',')
      : 'malformed' in acted
        ? acted.malformed
        : `LET THROUGH ${JSON.stringify(action)}`;
  });

/** Ways round a stop that somebody in a hurry would try. */
function waysRound(job: Job, card: OpenStep, values: ReturnType<typeof answersTo>): Action[] {
  const steps = job.procedure.steps.filter(
    ({ id, effect }) => !id.startsWith('stop.') && effect !== 'isolate',
  );
  const done = steps.filter(({ id }) => job.state.context.status[id] === 'done');
  const open = steps.filter(({ id }) => job.state.context.status[id] === 'open');
  return [
    { do: 'confirm', step: card.id, values },
    { do: 'begin', step: card.id },
    { do: 'deviate', step: card.id, ...risk },
    { do: 'deviate', step: 'stop.voltage', ...risk },
    ...open.slice(0, 8).map(({ id }): Action => ({ do: 'deviate', step: id, ...risk })),
    ...open.slice(0, 8).map(({ id }): Action => ({ do: 'begin', step: id })),
    ...done.slice(-8).map(({ id }): Action => ({ do: 'reopen', step: id, reason: 'it is to be done again' })),
    { do: 'close', signatures: [{ name: 'Nadia', role: 'installer' }] } as Action,
  ];
}

// Review of cards by the rules of the trade; 29 CFR 1910.333(a)(1), (c)(2): live parts of 50 V and more are for qualified
// persons. On the first build 0.01 V typed next by the same person gave DEAD.
describe('230 V met at the proof of dead', () => {
  const met = { greatest: '230 V', at: '', points: 1 };

  test('shuts everything but what makes safe, whatever is tried, until it is on record what it was', async () => {
    const { job, card, values } = await demoAt('supply.prove');
    const at =
      (card.proof.find(({ field }) => field === 'ac') as { points: readonly string[] }).points[0] ?? '';
    expect(
      job.act({ do: 'confirm', step: card.id, values: { ...values, ac: { ...met, at } } }),
    ).toMatchObject({
      outcome: 'failed',
    });
    expect(job.next().stops).toMatchObject([{ code: 'voltage', opener: 'stop.voltage' }]);
    expect(job.next().open.map(({ id }) => id)).toEqual(['stop.voltage', 'supply.isolate']);
    const ways = waysRound(job, card, values);
    expect(ways.length).toBeGreaterThan(28);
    for (const said of refusals(job, ways)) expect(said).toMatch(SHUT);
    // Another person, another sitting, another instrument, a doubt, a break, the night: it stands.
    for (const action of [
      { ...SHIFT, name: 'Ola' },
      { do: 'doubt', reason: 'a lamp came on' },
      { do: 'pause', reason: 'lunch' },
      { ...SHIFT, instrument: 'meter 4' },
    ] as Action[])
      job.act(action);
    expect(job.next().handsOff).toBe('stop.voltage');
    job.close();
    const again = Job.open(job.dir, realSystem(), 'act');
    again.act(SHIFT);
    expect(refusals(again, [{ do: 'confirm', step: card.id, values }])).toEqual([
      expect.stringMatching(SHUT),
    ]);
    // A correction is taken, and changes nothing of it.
    again.act({
      do: 'correct',
      reason: 'the cable is longer',
      set: [{ path: 'cables.c1.length', value: '21 m' }],
    });
    expect(again.next().handsOff).toBe('stop.voltage');
    again.close();
    const other = join(folder(), 'other');
    expect(carryOnIn(job.dir, other, realSystem())).toBeDefined();
    const there = Job.open(other, realSystem(), 'act');
    there.act(SHIFT);
    expect(there.next().handsOff).toBe('stop.voltage');
    // Still there, or read beyond 50 V again: it stands.
    const found = {
      who: 'Ira Volt',
      was: 'a bell transformer wired to the loop of z2',
      gone: 'gone',
      volts: '0.02 V',
    };
    const answer = (values: Record<string, string>) =>
      there.act({ do: 'confirm', step: 'stop.voltage', values });
    expect(answer({ ...found, gone: 'still' })).toMatchObject({ outcome: 'failed' });
    expect(answer({ ...found, volts: '97 V' })).toMatchObject({ outcome: 'failed' });
    expect(answer({ ...found, was: '' })).toHaveProperty('malformed');
    expect(there.next().handsOff).toBe('stop.voltage');
    expect(answer(found)).toMatchObject({ outcome: 'recorded' });
    expect(there.next().stops).toBeUndefined();
    // It was met: nothing counts as dead by that, and dead is proved in full.
    expect(there.next().supply).not.toBe('dead');
    there.close();
  });
});

test('what the meter cannot show on volts stops as much as a figure', async () => {
  const { job, card, values } = await demoAt('supply.prove');
  const at =
    (card.proof.find(({ field }) => field === 'ac') as { points: readonly string[] }).points[0] ?? '';
  job.act({ do: 'confirm', step: card.id, values: { ...values, ac: { greatest: 'OL', at, points: 1 } } });
  expect(job.next().handsOff).toBe('stop.voltage');
  job.close();
});

test.each([
  ['survey.scope', 'role', 'neither', 'all'],
  ['survey.scope', 'permit', 'not-sure', 'all'],
  ['centre.on-test', 'on-test', 'refused', 'step'],
  ['mount.b1', 'insulation', 'touches', 'step'],
  ['clear.panel', 'bond', 'came-off', 'all'],
  ['handover.user', 'open-points', 'not-accepted', 'step'],
])('at %s the answer %s %s is not given up, reopened or slept over', async (step, field, option, reach) => {
  const { job, card, values } = await demoAt(step);
  const choice = card.proof.find((proof) => proof.field === field);
  if (choice === undefined) throw new Error(`${step} asks no ${field}.`);
  expect(job.act({ do: 'confirm', step, values: { ...values, [field]: option } })).toMatchObject({
    outcome: 'failed',
  });
  const deviate: Action = { do: 'deviate', step, ...risk };
  expect(refusals(job, [deviate])[0]).toMatch(SHUT);
  job.act({ do: 'reopen', step, reason: 'it was nothing' });
  expect(refusals(job, [deviate])[0]).toMatch(SHUT);
  job.close();
  const again = Job.open(job.dir, realSystem(), 'act');
  again.act({ ...SHIFT, name: 'Ola' });
  expect(refusals(again, [deviate])[0]).toMatch(SHUT);
  expect(again.next().warnings[0]).toBe(again.next().stops?.[0]?.says);
  if (reach === 'all') expect(again.next().open.length).toBeLessThanOrEqual(3);
  again.close();
});
