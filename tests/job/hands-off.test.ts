import { expect, test } from 'vitest';
import { Job } from '../../source/job/job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { nextOpen } from '../../source/screens/step/state.ts';
import { answersTo, drive } from '../drive.ts';
import { demoJob, SHIFT } from './demo-job.ts';

// 50 V is this program's own bound; that such a voltage is left to an electrician is common practice, no source.
test('a voltage beyond 50 V stays in sight at every step until it is on record what it was', async () => {
  const job = demoJob();
  const isOpen = (id: string) => job.next().open.some((step) => step.id === id);
  await drive(job.next(), (action) => job.act(action), { until: () => isOpen('isolate.battery.1') });
  const card = job.next().open.find(({ id }) => id === 'isolate.battery.1')!;
  const values = answersTo(card);
  const acted = job.act({ do: 'confirm', step: card.id, values: { ...values, volts: '2019 V' } });
  expect(acted).toMatchObject({ outcome: 'failed' });
  const others = () => job.next().open.filter(({ id }) => id !== 'stop.voltage');
  expect(job.next().handsOff).toBe('stop.voltage');
  expect(job.next().warnings[0]).toContain('A voltage was met');
  expect(others().length).toBeGreaterThan(0);
  for (const { cautions } of others()) expect(cautions[0]).toContain('Hands off');
  const { status } = job.state.context;
  expect(nextOpen({ next: job.next(), status })?.id).toBe('stop.voltage');
  job.close();
  const again = Job.open(job.dir, realSystem(), 'act');
  expect(again.next().handsOff).toBe('stop.voltage');
  again.act(SHIFT);
  expect(again.act({ do: 'confirm', step: card.id, values })).toHaveProperty('refused');
  const misread = {
    who: 'Nadia',
    was: '20.19 V, typed without its point',
    gone: 'misread',
    volts: '20.19 V',
  };
  expect(again.act({ do: 'confirm', step: 'stop.voltage', values: misread })).toMatchObject({
    outcome: 'recorded',
  });
  expect(again.act({ do: 'confirm', step: card.id, values })).toMatchObject({ outcome: 'passed' });
  expect(again.next().handsOff).toBeUndefined();
  expect(
    again
      .next()
      .open.flatMap(({ cautions }) => cautions)
      .join(),
  ).not.toContain('Hands off until');
  again.close();
});

test('what failed comes before what is done and only offered again, but after a proof of dead that is owed', () => {
  const nextIn = (supply: string) => {
    const next = { open: [{ id: 'isolate' }, { id: 'battery' }], closeNeeds: ['battery'], supply };
    const job = { next, status: { isolate: 'done', battery: 'failed' } };
    return nextOpen(job as unknown as Parameters<typeof nextOpen>[0])?.id;
  };
  expect(nextIn('isolating')).toBe('battery');
  expect(nextIn('unproven')).toBe('isolate');
});
