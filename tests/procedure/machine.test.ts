import { describe, expect, test } from 'vitest';
import { carryOver } from '../../source/procedure/carry-over.ts';
import { closeNeeds, counts, lockedSteps, openSteps, stageOf } from '../../source/procedure/next.ts';
import { reasons } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { SMALL } from './small-procedure.ts';

const pass = (step: string, option: string | null = null): JobEvent => ({
  type: 'confirm',
  step,
  verdict: 'passed',
  option,
});
const fail = (step: string): JobEvent => ({ type: 'confirm', step, verdict: 'failed', option: null });
const shift: JobEvent = { type: 'start-shift', person: 'p1', sitting: 'screens' };

/** Applies each event and insists that it was let through. */
function run(events: readonly JobEvent[], from: JobState = initialState(SMALL)): JobState {
  return events.reduce((state, event) => {
    expect(reasons(SMALL, state, event), JSON.stringify(event)).toEqual([]);
    return nextState(SMALL, state, event);
  }, from);
}

const toIsolated: JobEvent[] = [
  shift,
  pass('life-safety.decision', 'independent'),
  pass('life-safety.independent'),
  pass('electrician.record'),
  pass('survey.open'),
  pass('prepare.adapter.b1'),
  pass('prepare.bench'),
  pass('supply.isolate'),
];
const toDead: JobEvent[] = [...toIsolated, pass('isolate.battery'), pass('supply.prove')];
const toLanded: JobEvent[] = [
  ...toDead,
  ...['label.c1', 'label.c2', 'measure.z1', 'split.z1', 'clear.voltage', 'rewire.z1', 'cold.voltage'].map(
    (id) => pass(id),
  ),
];
const toPowered: JobEvent[] = [...toLanded, pass('power.adapter'), pass('power.battery.b1')];

describe('the machine on a hand-made job', () => {
  test('a whole job can be led to its close', () => {
    const state = run([...toPowered, pass('walk.shutter'), pass('centre.end'), pass('handover.card')]);
    expect(closeNeeds(SMALL, state)).toEqual([]);
    expect(run([{ type: 'close' }], state).job).toBe('closed');
  });

  test('a shut gate leaves the state as it was and says what opens it', () => {
    const state = run(toIsolated);
    expect(nextState(SMALL, state, pass('label.c1'))).toEqual(state);
    expect(reasons(SMALL, state, pass('label.c1'))).toEqual([
      {
        code: 'supply-not-so',
        says: 'The sources are being isolated, and dead is not proved yet. Isolate what is left, then prove dead (supply.prove).',
      },
    ]);
  });

  test('what was proved dead perishes, and a longer gap owes the short proof alone', () => {
    const dead = run(toDead);
    const owes = (event: JobEvent) => {
      const { supply, context } = nextState(SMALL, dead, event);
      return `${supply} ${context.owed}`;
    };
    expect(owes({ type: 'interrupted', why: 'gap', sitting: 'screens' })).toBe('unproven short');
    expect(owes({ type: 'interrupted', why: 'clock', sitting: 'screens' })).toBe('unproven full');
    expect(owes({ type: 'interrupted', why: 'new-sitting', sitting: 'act' })).toBe('unproven full');
    expect(owes({ type: 'doubt' })).toBe('unproven full');
    expect(owes({ type: 'pause' })).toBe('unproven full');
    expect(owes({ type: 'leave' })).toBe('unproven full');
    expect(owes({ type: 'start-shift', person: 'p2', sitting: 'screens' })).toBe('unproven full');
  });

  test('the short proof does not do where the full one is owed', () => {
    const gap = nextState(SMALL, run(toDead), { type: 'interrupted', why: 'gap', sitting: 'screens' });
    expect(nextState(SMALL, gap, pass('supply.prove-short')).supply).toBe('dead');
    const doubted = nextState(SMALL, gap, { type: 'doubt' });
    expect(nextState(SMALL, doubted, pass('supply.prove-short'))).toEqual(doubted);
    expect(nextState(SMALL, doubted, pass('supply.prove')).supply).toBe('dead');
  });

  test('a proof that meets a voltage means that a source is still on', () => {
    const doubted = nextState(SMALL, run(toDead), { type: 'doubt' });
    expect(nextState(SMALL, doubted, fail('supply.prove')).supply).toBe('isolating');
    const landed = run(toLanded.slice(0, -1));
    expect(nextState(SMALL, landed, fail('cold.voltage')).supply).toBe('isolating');
  });

  test('a step begun and not finished when the sitting ends is unknown, and asks first how it was found', () => {
    const begun = run([...toDead, pass('label.c1'), pass('label.c2'), { type: 'begin', step: 'measure.z1' }]);
    expect(begun.context.status['measure.z1']).toBe('begun');
    const back = run(
      [{ type: 'interrupted', why: 'new-sitting', sitting: 'screens' }, pass('supply.prove')],
      begun,
    );
    expect(back.context.status['measure.z1']).toBe('unknown');
    const card = openSteps(SMALL, back).find((step) => step.id === 'measure.z1');
    expect(card?.proof[0]?.field).toBe('found');
  });

  test('reopening opens all that rests on it, and what was physically done becomes unknown', () => {
    const state = run([...toPowered, pass('walk.shutter'), { type: 'reopen', step: 'rewire.z1' }]);
    const { status } = state.context;
    expect([status['rewire.z1'], status['cold.voltage'], status['walk.shutter'], status['split.z1']]).toEqual(
      ['unknown', 'open', 'open', 'done'],
    );
  });

  test('isolating again takes adapter and battery lead off, and power comes back only through the checks', () => {
    const off = run([...toPowered, pass('supply.isolate')]);
    expect(off.supply).toBe('isolating');
    expect(off.context.status['power.adapter']).toBe('open');
    expect(off.context.status['power.battery.b1']).toBe('open');
    expect(run([pass('supply.prove'), pass('power.adapter')], off).supply).toBe('energised');
  });

  test('a failed energising may have left power on: the full proof is owed', () => {
    const state = nextState(SMALL, run(toLanded), fail('power.adapter'));
    expect([state.supply, state.context.owed]).toEqual(['unproven', 'full']);
  });

  test('a choice rules its alternatives out, and reopening it brings them back', () => {
    const chosen = run([shift, pass('life-safety.decision', 'impairment')]);
    expect(chosen.context.status['life-safety.independent']).toBe('excluded');
    const again = run([{ type: 'reopen', step: 'life-safety.decision' }], chosen);
    expect(again.context.branches).toEqual({});
    expect(again.context.status['life-safety.independent']).toBe('open');
  });

  test('the number of cards stands still while choices rule some out', () => {
    const total = counts(SMALL, initialState(SMALL)).total;
    const chosen = run([shift, pass('life-safety.decision', 'impairment')]);
    expect(counts(SMALL, chosen).total).toBe(total);
    expect(counts(SMALL, chosen).done).toBeGreaterThan(1);
  });

  test('what waits says for what, behind the supply too', () => {
    const locked = lockedSteps(SMALL, initialState(SMALL));
    const label = locked.find((step) => step.id === 'label.c1');
    expect(label?.waitingFor).toEqual(['prepare.bench', 'supply:dead']);
    expect(stageOf(SMALL, run(toDead))).toBe('label');
    expect(counts(SMALL, run(toDead)).done).toBeLessThan(counts(SMALL, run(toDead)).total);
  });

  test('a correction keeps what is unchanged, reopens what changed and proves added conductors anew', () => {
    const state = run(toLanded);
    const steps = SMALL.steps.map((step) =>
      step.id === 'split.z1' ? { ...step, title: 'Part them' } : step,
    );
    const same = carryOver(SMALL, state, { ...SMALL, steps });
    expect(same.supply).toBe('dead');
    expect(same.context.status['measure.z1']).toBe('done');
    expect([same.context.status['split.z1'], same.context.status['cold.voltage']]).toEqual([
      'unknown',
      'open',
    ]);
    const more = carryOver(SMALL, state, { ...SMALL, conductors: [...SMALL.conductors, 'c3/1'] });
    expect([more.supply, more.context.owed]).toEqual(['unproven', 'full']);
  });

  test('after closing only notes remain', () => {
    const state = run([
      ...toPowered,
      pass('walk.shutter'),
      pass('centre.end'),
      pass('handover.card'),
      { type: 'close' },
    ]);
    for (const event of [shift, { type: 'doubt' } as const, pass('walk.shutter')]) {
      expect(nextState(SMALL, state, event)).toEqual(state);
    }
  });
});
