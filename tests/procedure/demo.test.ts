import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { closeNeeds, counts, openSteps, stageOf } from '../../source/procedure/next.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { report } from '../scale.ts';
import { demoPlan } from './demo-plan.ts';
import { confirmBy, lead, leadTo } from './lead.ts';

const demo = buildProcedure(demoPlan());

test('the demo job is led to its close by what its open steps say, in at most ninety confirmations', () => {
  const { state, confirmed, typed } = lead(demo);
  expect(closeNeeds(demo, state)).toEqual([]);
  expect(nextState(demo, state, { type: 'close' }).job).toBe('closed');
  const { total, done } = counts(demo, state);
  report('A ten-detector job', [
    {
      total: counts(demo, initialState(demo)).total,
      confirmations: confirmed.length,
      'typed readings': typed,
    },
  ]);
  expect(done).toBe(total);
  expect(confirmed.length).toBeLessThanOrEqual(90);
  expect(
    counts(demo, initialState(demo)).total,
    'one card more here means one less elsewhere',
  ).toBeLessThanOrEqual(90);
});

describe('the stage that is shown', () => {
  test('is that of the step offered first, and never the handover before the walk test', () => {
    let state = nextState(demo, initialState(demo), {
      type: 'start-shift',
      person: 'p1',
      sitting: 'screens',
    });
    const shown: string[] = [];
    for (let count = 0; count < 100 && closeNeeds(demo, state).length > 0; count += 1) {
      const [first] = openSteps(demo, state);
      expect(stageOf(demo, state), first!.id).toBe(first!.stage);
      shown.push(first!.stage);
      state = nextState(demo, state, confirmBy(first!));
    }
    expect(closeNeeds(demo, state)).toEqual([]);
    expect(shown.indexOf('handover')).toBeGreaterThan(shown.lastIndexOf('walk-test'));
    expect(stageOf(demo, state)).toBe('handover');
  });

  test('while all is dead nothing of the handover is on offer but what was taken off', () => {
    const open = openSteps(demo, leadTo(demo, 'rewire.c3')).filter((step) => step.stage === 'handover');
    expect(open.map((step) => step.id)).toEqual(['handover.battery']);
  });
});
