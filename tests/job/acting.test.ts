import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Acted, Action } from '../../source/job/action.ts';
import { readHistory } from '../../source/job/history.ts';
import { readJob } from '../../source/job/read-job.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { Journal } from '../../source/journal/journal.ts';
import { drive, driveToClosed } from '../drive.ts';
import { again, folder, type SmallJob, smallJob } from './small-job.ts';

const shift: Action = { do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' };
const act = (small: SmallJob) => (action: unknown) => small.job.act(action);
const records = (small: SmallJob) => [...readHistory(small.dir)];
const kinds = (small: SmallJob) => records(small).map((entry) => entry.kind);
const stateBytes = (job: { state: unknown }) => canonicalJson(job.state as Json);
const outcome = (acted: Acted) => ('outcome' in acted ? acted.outcome : acted);

const setWall = (small: SmallJob, by: number) =>
  Object.assign(small.clocks, { wall: small.clocks.wall + by });

/** A job that has been worked on until a step is open. */
async function until(step: string): Promise<SmallJob> {
  const small = smallJob();
  small.job.act(shift);
  await drive(small.job.next(), act(small), { until: (next) => next.open[0]?.id === step });
  expect(small.job.next().open[0]?.id).toBe(step);
  return small;
}

describe('acting on a job', () => {
  test('from the shift to the seal with values that next names; replay gives the same bytes of state', async () => {
    const small = smallJob();
    const next = await driveToClosed(small.job.next(), act(small));
    expect(next.closed).toBe(true);
    expect(kinds(small).at(-1)).toBe('seal');
    const live = stateBytes(small.job);
    expect(stateBytes(readJob(small.dir))).toBe(live);
    expect(stateBytes(again(small))).toBe(live);
  });

  test('replay gives the same state after every single record', async () => {
    const small = smallJob();
    const states: string[] = [];
    await driveToClosed(small.job.next(), (action) => {
      const acted = small.job.act(action);
      states.push(stateBytes(small.job));
      expect(stateBytes(readJob(small.dir))).toBe(states.at(-1));
      return acted;
    });
    expect(new Set(states).size).toBeGreaterThan(15);
  });

  test('what is malformed leaves no record and no change', async () => {
    const small = await until('measure.z1');
    const before = [records(small).length, stateBytes(small.job)];
    for (const given of [
      undefined,
      { do: 'confirm', step: 'measure.z1', values: {} },
      { do: 'confirm', step: 'measure.z1', values: { word: '1', other: '2' } },
      { do: 'confirm', step: 'no-such-step', values: {} },
      { do: 'note', text: 'x', step: 'no-such-step' },
      { do: 'away', where: 'lorry', forTime: 'a while' },
      { do: 'away', where: 'lorry', forTime: '61 min' },
      { do: 'photo', path: '/no/such/picture.jpg' },
      { do: 'leave', values: { windows: 'shut' } },
    ]) {
      expect(small.job.act(given)).toHaveProperty('malformed');
    }
    expect([records(small).length, stateBytes(small.job)]).toEqual(before);
    // Not even the break of the sitting that it would have found.
    small.clocks.boot = 'another';
    expect(small.job.act({ do: 'photo', path: '/no/such/picture.jpg' })).toHaveProperty('malformed');
    expect([records(small).length, stateBytes(small.job)]).toEqual(before);
  });

  test('a shut gate leaves one refused record, no values in it, and the state as it was', async () => {
    const small = await until('supply.isolate');
    const before = stateBytes(small.job);
    const count = records(small).length;
    const acted = small.job.act({ do: 'confirm', step: 'measure.z1', values: { word: 'secret words' } });
    expect(acted).toMatchObject({ refused: expect.any(String), records: [count] });
    expect('because' in acted && acted.because.length).toBeGreaterThan(0);
    expect(stateBytes(small.job)).toBe(before);
    expect(records(small)).toHaveLength(count + 1);
    expect(records(small).at(-1)).toMatchObject({ kind: 'refused', data: { because: expect.any(Array) } });
    expect(readFileSync(join(small.dir, 'journal.jsonl'), 'utf8')).not.toContain('secret words');
  });

  test('no record says who by name; the private file does, and may be erased', async () => {
    const small = await until('supply.isolate');
    expect(readFileSync(join(small.dir, 'journal.jsonl'), 'utf8')).not.toContain('Lovett');
    expect(small.job.nameOf('p1')).toBe('Ada Lovett');
    writeFileSync(join(small.dir, 'private.json'), '');
    expect(small.job.nameOf('p1')).toBe('p1');
    expect(outcome(again(small).act({ do: 'note', text: 'goes on', by: 'p1' }))).toBe('recorded');
  });

  test('opening a card is recorded once in a sitting', async () => {
    const small = await until('measure.z1');
    const begin = { do: 'begin', step: 'measure.z1' };
    expect(small.job.act(begin)).toMatchObject({ outcome: 'recorded', records: [expect.any(Number)] });
    expect(small.job.act(begin)).toMatchObject({ outcome: 'recorded', records: [] });
    expect(small.job.state.context.status['measure.z1']).toBe('begun');
  });

  test('a challenge leaves no record; acknowledged it passes and is recorded so', async () => {
    const small = await until('measure.z1');
    const count = records(small).length;
    const note = { do: 'note', text: 'the keypad code is 4711' };
    const acted = small.job.act(note);
    expect(acted).toMatchObject({ challenge: 'looks-like-a-code' });
    expect(records(small)).toHaveLength(count);
    const again = small.job.act({ ...note, acknowledge: [('challenge' in acted && acted.challenge) || ''] });
    expect(outcome(again)).toBe('recorded');
    expect(records(small).at(-1)?.data).toMatchObject({ acknowledged: ['looks-like-a-code'] });
  });

  test('a file is copied into the job with its size and digest', async () => {
    const small = await until('measure.z1');
    const picture = join(folder(), 'Ada in the closet.JPG');
    writeFileSync(picture, 'not really a picture');
    expect(outcome(small.job.act({ do: 'photo', path: picture, step: 'measure.z1' }))).toBe('recorded');
    const { data } = records(small).at(-1)!;
    expect(data).toMatchObject({ bytes: 20, step: 'measure.z1' });
    expect(data.path).toMatch(/^attachments\/[0-9a-f]{16}\.jpg$/);
    expect(readFileSync(join(small.dir, String(data.path)), 'utf8')).toBe('not really a picture');
  });

  test('a hard step cannot be deviated from, a soft one with reason and residual risk', async () => {
    const small = await until('measure.z1');
    const deviate = (step: string) => ({
      do: 'deviate',
      step,
      reason: 'no time',
      residualRisk: 'unknown join',
    });
    expect(small.job.act(deviate('measure.z1'))).toHaveProperty('refused');
    await drive(small.job.next(), act(small), { until: (next) => next.open[0]?.id === 'split.z1' });
    expect(outcome(small.job.act(deviate('split.z1')))).toBe('recorded');
    expect(small.job.results.get('split.z1')?.at(-1)).toMatchObject({
      reason: 'no time',
      residualRisk: 'unknown join',
    });
  });
});

describe('sittings of act', () => {
  test('one process after the other carries a sitting on', async () => {
    const small = await until('measure.z1');
    expect(small.job.state.supply).toBe('dead');
    small.clocks.pass(60_000);
    expect(outcome(again(small).act({ do: 'note', text: 'still here', by: 'p1' }))).toBe('recorded');
    expect(small.job.state.supply).toBe('dead');
    expect(kinds(small).filter((kind) => kind === 'interrupted')).toHaveLength(1);
  });

  test.each([
    ['gap', 'short', (small: SmallJob) => small.clocks.pass(16 * 60_000), 'p1'],
    ['boot', 'full', (small: SmallJob) => Object.assign(small.clocks, { boot: 'another' }), 'p1'],
    ['clock', 'full', (small: SmallJob) => setWall(small, 3600_000), 'p1'],
    ['clock', 'full', (small: SmallJob) => setWall(small, -3600_000), 'p1'],
  ])('broken by %s it is recorded, and dead is to be proved again: %s', async (why, owed, change, by) => {
    const small = await until('measure.z1');
    change(small);
    const ahead = readJob(small.dir).next(small.system);
    expect(ahead.supply).toBe('unproven');
    expect(ahead.warnings.join(' ')).toContain('Sitting broken');
    expect(readJob(small.dir).next().supply).toBe('dead');
    const confirm = { do: 'confirm', step: 'measure.z1', values: { word: '1' }, by };
    expect(again(small).act(confirm)).toHaveProperty('refused');
    const [broken] = records(small)
      .filter((entry) => entry.kind === 'interrupted')
      .slice(-1);
    expect(broken?.data).toMatchObject({ why, gapSeconds: expect.any(Number) });
    expect(small.job.state).toMatchObject({ supply: 'unproven', context: { owed } });
  });

  test('another person breaks it, and must start a shift', async () => {
    const small = await until('measure.z1');
    small.job.act({ do: 'start-shift', name: 'Ben Okoro', instrument: 'meter 4', by: 'Ben Okoro' });
    expect(small.job.state).toMatchObject({ supply: 'unproven', context: { person: 'p2', owed: 'full' } });
    const acted = small.job.act({ do: 'pause', reason: 'lunch', by: 'Ada Lovett' });
    expect(acted).toMatchObject({ because: [expect.stringContaining('Ben Okoro is')] });
    expect(
      records(small)
        .slice(-2)
        .map((entry) => entry.kind),
    ).toEqual(['interrupted', 'refused']);
    expect(small.job.act({ do: 'pause', reason: 'lunch', by: 'Cleo' })).toHaveProperty('refused');
  });

  test('who said to be away may stay away so long', async () => {
    const small = await until('measure.z1');
    small.job.act({ do: 'away', where: 'at the lorry', forTime: '40 min' });
    small.clocks.pass(39 * 60_000);
    small.job.act({ do: 'note', text: 'back' });
    expect(small.job.state.supply).toBe('dead');
    small.clocks.pass(39 * 60_000);
    small.job.act({ do: 'note', text: 'back once more' });
    expect(small.job.state.supply).toBe('unproven');
  });

  test('doubt, pause and leaving put what was dead in doubt', async () => {
    for (const action of [
      { do: 'doubt' },
      { do: 'pause', reason: 'phone' },
      { do: 'leave', values: { power: 'nothing' } },
    ]) {
      const small = await until('measure.z1');
      expect(outcome(small.job.act(action))).toBe('recorded');
      expect(small.job.state).toMatchObject({ supply: 'unproven', context: { owed: 'full' } });
    }
  });

  test('what was not said on leaving stays a warning until somebody is back', async () => {
    const small = await until('measure.z1');
    const acted = small.job.act({
      do: 'leave',
      values: { ends: '4', 'ends-state': 'cannot', battery: 'covered' },
    });
    const warnings =
      ('next' in acted && acted.next.warnings.filter((one) => one.startsWith('Left for the night'))) || [];
    expect(warnings).toHaveLength(3);
    expect(warnings[0]).toContain('to be mended');
    const back = again(small).act({ ...shift });
    expect('next' in back && back.next.warnings.some((one) => one.startsWith('Left for the night'))).toBe(
      false,
    );
  });

  test('a step begun when the sitting ends is unknown, and its first proof is how it was found', async () => {
    const small = await until('measure.z1');
    small.job.act({ do: 'begin', step: 'measure.z1' });
    small.clocks.boot = 'another';
    const { next } = again(small).act({ do: 'note', text: 'the battery was empty' }) as Extract<
      Acted,
      { next: unknown }
    >;
    expect(small.job.state.context.status['measure.z1']).toBe('unknown');
    expect(next.warnings.join()).toContain('measure.z1');
    const proved = await drive(next, act(small), { until: (one) => one.open[0]?.id === 'measure.z1' });
    expect(proved.next.open[0]?.proof[0]).toMatchObject({ field: 'found', kind: 'choice' });
  });
});

describe('sittings of the screens', () => {
  test('opening them always begins a new one, and records it', async () => {
    const small = await until('measure.z1');
    again(small, 'screens');
    expect(records(small).at(-1)).toMatchObject({ kind: 'interrupted', data: { why: 'new-sitting' } });
    expect(small.job.state).toMatchObject({
      supply: 'unproven',
      context: { sitting: 'screens', owed: 'full' },
    });
  });

  test('keys leave one record every five minutes, and keep the sitting', async () => {
    const small = await until('measure.z1');
    again(small, 'screens');
    for (let second = 0; second < 1800; second += 1) {
      small.clocks.pass(1000);
      small.job.here();
    }
    const here = kinds(small).filter((kind) => kind === 'here');
    expect(here.length).toBeGreaterThanOrEqual(5);
    expect(here.length).toBeLessThanOrEqual(6);
    expect(kinds(small).at(-1)).toBe('here');
  });

  test('a gap without keys is found at the next key', async () => {
    const small = await until('measure.z1');
    again(small, 'screens');
    await drive(small.job.next(), act(small), { until: (next) => next.supply === 'dead' });
    small.clocks.pass(20 * 60_000);
    small.job.here();
    expect(records(small).at(-1)).toMatchObject({
      kind: 'interrupted',
      data: { why: 'gap', gapSeconds: 1200 },
    });
    expect(small.job.state).toMatchObject({ supply: 'unproven', context: { owed: 'short' } });
  });
});

describe('after the seal', () => {
  test('nothing but notes, in a continuation; the seal stands', async () => {
    const small = smallJob();
    await driveToClosed(small.job.next(), act(small));
    const count = records(small).length;
    for (const action of [shift, { do: 'doubt' }, { do: 'reopen', step: 'measure.z1', reason: 'later' }]) {
      expect(again(small).act(action)).toMatchObject({ refused: expect.any(String), records: [] });
    }
    expect(records(small)).toHaveLength(count);
    expect(small.job.act({ do: 'note', text: 'alarm code 4711' })).toHaveProperty('challenge');
    expect(outcome(small.job.act({ do: 'note', text: 'the owner called in June' }))).toBe('recorded');
    expect(outcome(again(small).act({ do: 'note', text: 'and again', by: 'p1' }))).toBe('recorded');
    expect(
      records(small)
        .slice(count)
        .map((entry) => entry.kind),
    ).toEqual(['open', 'note', 'note']);
    expect(small.job.closed).toBe(true);
    expect(readFileSync(join(small.dir, 'journal.2.jsonl'), 'utf8').split('\n')).toHaveLength(4);
  });

  test('a program that ended between the last record and the seal is sealed when it is opened', async () => {
    const small = smallJob();
    small.job.act(shift);
    await drive(small.job.next(), act(small));
    small.job.close();
    const journal = Journal.open(small.dir, small.system);
    journal.append('act', {
      do: 'close',
      by: 'p1',
      event: { type: 'close' },
      signatures: [],
      ...journal.stamp(),
    });
    journal.close();
    expect(kinds(small).at(-1)).toBe('act');
    expect(again(small).closed).toBe(true);
    expect(kinds(small).at(-1)).toBe('seal');
    expect(readFileSync(join(small.dir, 'seal.txt'), 'utf8')).toContain(String(records(small).length));
  });

  test('whoever signs is known by an id alone', async () => {
    const small = smallJob();
    small.job.act(shift);
    await drive(small.job.next(), act(small));
    const signatures = [
      { name: 'Ben Okoro', role: 'owner' },
      { name: 'Ada Lovett', role: 'installer' },
      { name: 'Cleo Marsh', role: 'witness' },
    ];
    expect(outcome(small.job.act({ do: 'close', signatures }))).toBe('recorded');
    expect(records(small).at(-2)?.data.signatures).toEqual([
      { person: 'p2', role: 'owner' },
      { person: 'p1', role: 'installer' },
      { person: 'p3', role: 'witness' },
    ]);
    expect(small.job.nameOf('p3')).toBe('Cleo Marsh');
  });
});
