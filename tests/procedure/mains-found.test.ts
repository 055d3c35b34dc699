import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { INVARIANTS } from '../../source/procedure/invariants.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { touchesWiring } from '../../source/procedure/lookup.ts';
import { closeNeeds, openSteps } from '../../source/procedure/next.ts';
import { reasons } from '../../source/procedure/reasons.ts';
import type { JobEvent } from '../../source/procedure/state.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from './demo-plan.ts';
import { lead, leadTo } from './lead.ts';

// 29 CFR 1910.333(b)(2); HSE HSG85 (2013, from memory): mains is isolated and proved by who may, and that is on record.
const demo = buildProcedure(demoPlan());
const RECORD = 'electrician.inside';
const confirm = (step: string, option: string | null): JobEvent => ({
  type: 'confirm',
  step,
  verdict: 'passed',
  option,
});
const shut = leadTo(demo, 'survey.open');
const found = (option: string) => nextState(demo, shut, confirm('survey.open', option));
const card = (id: string) => demo.steps.find((step) => step.id === id)!;

describe.each(['seen', 'not-sure'])('mains inside: %s', (option) => {
  const state = found(option);

  test('shuts the lid: next is the electrician, and nothing else inside is open', () => {
    expect(openSteps(demo, state)[0]?.id).toBe(RECORD);
    const open = openSteps(demo, state).map((step) => step.id);
    for (const id of ['survey.inside', 'survey.baseline', 'plan.accept', 'supply.isolate', 'output.1'])
      expect(open).not.toContain(id);
  });

  test('every step that puts a hand on a wire, isolates or opens anything more waits for the record', () => {
    for (const step of demo.steps.filter((one) => touchesWiring(one) || one.needs !== 'any')) {
      for (const event of [{ type: 'begin', step: step.id }, confirm(step.id, null)] as const)
        expect(nextState(demo, state, event), step.id).toBe(state);
    }
    expect(nextState(demo, state, { type: 'close' })).toBe(state);
  });

  test('no answer, failure or deviation takes it back: only the record, or reopening it with a reason', () => {
    const events: JobEvent[] = [
      confirm('survey.open', 'none'),
      confirm('survey.open', null),
      { type: 'fail', step: 'survey.open' },
      { type: 'deviate', step: 'survey.open' },
      { type: 'deviate', step: RECORD },
      { type: 'begin', step: 'survey.open' },
    ];
    for (const event of events) {
      expect(nextState(demo, state, event), JSON.stringify(event)).toBe(state);
      expect(reasons(demo, state, event), JSON.stringify(event)).not.toEqual([]);
    }
    const failed = nextState(demo, state, { ...confirm(RECORD, null), verdict: 'failed' } as JobEvent);
    expect(failed.context.branches['survey.open']).toBe(option);
    for (const interruption of ['doubt', 'pause', 'leave'] as const) {
      const after = nextState(demo, failed, { type: interruption });
      expect(after.context.branches['survey.open']).toBe(option);
    }
    const reopened = nextState(demo, state, { type: 'reopen', step: 'survey.open' });
    expect(reopened.context.branches['survey.open']).toBeUndefined();
    expect(reopened).not.toBe(state);
  });

  test('who isolated and proved it, with the licence, opens the way to the close', () => {
    const fields = card(RECORD).proof.map((proof) => proof.field);
    expect(fields).toEqual(['electrician', 'licence', 'state', 'lock']);
    for (const field of fields) {
      const { [field]: _, ...rest } = answersTo(card(RECORD));
      expect(judgeProof(card(RECORD), rest).ok, field).toBe(false);
    }
    expect(judgeProof(card(RECORD), { ...answersTo(card(RECORD)), state: 'not-yet' })).toMatchObject({
      verdict: 'failed',
    });
    expect(closeNeeds(demo, lead(demo, ['locked'], state).state)).toEqual([]);
  });
});

test('with no mains inside there is no such card, and the look passes on no answer but its own', () => {
  expect(found('none').context.status[RECORD]).toBe('excluded');
  const { mains: _, ...rest } = answersTo(card('survey.open'));
  expect(judgeProof(card('survey.open'), rest).ok).toBe(false);
});

test('what is seen inside is not lost because a sounder sounds as well', () => {
  const judged = judgeProof(card('survey.open'), { mains: 'seen', sounding: 'loud' });
  expect(judged).toMatchObject({ verdict: 'passed', option: 'seen' });
});

test('a hand on a wire while mains is found and nobody has signed breaks an invariant', () => {
  const state = found('seen');
  const before = { ...state, supply: 'dead' as const };
  const event: JobEvent = { type: 'begin', step: 'measure.z1' };
  const after = { ...before, context: { ...before.context } };
  const mains = INVARIANTS.find((one) => one.number === 5)!;
  expect(mains.holds({ procedure: demo, before, event, after })).toBe(false);
  const none = { ...found('none'), supply: 'dead' as const };
  expect(mains.holds({ procedure: demo, before: none, event, after })).toBe(true);
});

test('a survey that says mains from the start asks for the electrician before the lid, and not again', () => {
  const fed = buildProcedure(
    demoPlan((text) => text.replace('feed: plug-in-transformer', 'feed: mains-in-enclosure')),
  );
  expect(fed.steps.some((step) => step.id === RECORD)).toBe(false);
  expect(initialState(fed).context.status['electrician.record']).toBe('open');
});
