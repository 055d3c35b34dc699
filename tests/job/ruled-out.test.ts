import { describe, expect, test } from 'vitest';
import type { Cause } from '../../source/electrical/causes.ts';
import { causesOf } from '../../source/job/causes.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { TOPICS, topicOf } from '../../source/procedure/topic.ts';
import { answersTo } from '../drive.ts';
import { randomSurvey } from '../random-survey.ts';
import { report, scale } from '../scale.ts';

const SEEDS = scale(100, 0.1);
const plans = Array.from({ length: SEEDS }, (_, seed) => {
  const { survey, boards } = randomSurvey(seed);
  const plan = planChangeover(survey, boards);
  return { seed, plan, steps: buildProcedure(plan).steps };
});
type One = (typeof plans)[number];

/** The causes of one voltage met in the first sweep of the full proof of dead, at its third point. */
function causesOfVolts({ plan, steps }: One, volts: string): string[] {
  const step = steps.find(({ id }) => id === 'supply.prove');
  const sweep = step?.proof.find((proof) => proof.kind === 'sweep' && proof.of === 'volts-dc');
  if (step === undefined || sweep?.kind !== 'sweep') return [];
  const at = sweep.points[2] ?? sweep.points[0]!;
  const values = { ...answersTo(step), [sweep.field]: { greatest: volts, at, points: sweep.points.length } };
  const judged = judgeProof(step, values);
  if (!judged.ok) throw new Error(JSON.stringify(judged.problems));
  return causesOf(step, judged.fields, () => plan).map(({ cause }) => cause);
}

const hasNoTelephone = ({ plan: { survey } }: One) =>
  ['none', 'radio', 'network'].includes(survey.outside.signalling) &&
  !survey.panel.terminals.some(({ role }) => role === 'telephone') &&
  !survey.cables.some(({ cores }) => cores.some(({ use }) => use === 'telephone'));

describe(`causes that the survey rules out (${SEEDS} random sites)`, () => {
  const without = plans.filter(hasNoTelephone);

  test('a telephone line is named where there is one, or nobody knows; elsewhere only where the volts are a line’s', () => {
    expect(without.length).toBeGreaterThan(2);
    for (const one of without) {
      expect(causesOfVolts(one, '12.6'), `seed ${one.seed}`).not.toContain('ringing-voltage');
      expect(causesOfVolts(one, '48')[0] ?? 'ringing-voltage', `seed ${one.seed}`).toBe('ringing-voltage');
    }
    const others = plans.filter((one) => !without.includes(one) && causesOfVolts(one, '12.6').length > 0);
    expect(others.length).toBeGreaterThan(0);
    for (const one of others) expect(causesOfVolts(one, '12.6')).toContain('ringing-voltage');
  });

  test('a few volts right after the supply is off are a charge that falls; a battery’s volts are a battery first', () => {
    for (const one of plans) {
      const few = causesOfVolts(one, '4.8');
      if (few.length === 0) continue;
      expect(few[0], `seed ${one.seed}`).toMatch(/^(charge-left|sounder-feeds-back)$/);
      const full = causesOfVolts(one, '12.6');
      expect(full[0]).toMatch(/^(battery-connected|sounder-feeds-back)$/);
    }
  });

  test('an input that is open at rest blames no supply where nothing needs one, and no resistor where there is none', () => {
    const never: Record<string, (one: One) => boolean> = {
      'relay-unpowered': ({ plan }) => plan.survey.detectors.every(({ supply }) => supply === null),
      'aux-reversed': ({ plan }) => plan.survey.detectors.every(({ supply }) => supply === null),
      'joined-other-way': ({ plan }) => plan.survey.zones.every(({ detectors }) => detectors.length < 2),
    } satisfies Partial<Record<Cause, (one: One) => boolean>>;
    let named = 0;
    for (const one of plans) {
      for (const step of one.steps.filter(({ id }) => id.startsWith('power.rest'))) {
        const seen = step.proof.find((proof) => proof.kind === 'observation');
        if (seen?.kind !== 'observation') continue;
        for (const shown of ['nothing', seen.expect === 'open' ? 'closed' : 'open']) {
          // What is read at the detector then is asked for as well: here all of it is right.
          const next = step.proof.flatMap((proof) =>
            proof.kind === 'reading' && proof.when && 'seen' in proof.when && proof.when.seen === seen.field
              ? Object.entries(answersTo({ proof: [{ ...proof, when: undefined } as never] }))
              : [],
          );
          const values = { ...answersTo(step), ...Object.fromEntries(next), [seen.field]: shown };
          const judged = judgeProof(step, values);
          if (!judged.ok) throw new Error(JSON.stringify(judged.problems));
          const causes = causesOf(step, judged.fields, () => one.plan).map(({ cause }) => cause);
          named += causes.length;
          for (const [cause, isOut] of Object.entries(never))
            if (isOut(one)) expect(causes.slice(1), `seed ${one.seed} ${step.id}`).not.toContain(cause);
        }
      }
    }
    report('Causes named at inputs', [{ named }]);
    expect(named).toBeGreaterThan(20);
  });
});

test('every topic is that of a card of some site, so that no id has been renamed away from it', () => {
  const met = new Set(plans.flatMap(({ steps }) => steps.map(topicOf)));
  expect([...new Set(Object.values(TOPICS))].filter((topic) => !met.has(topic))).toEqual([]);
});

test('a detector’s own word tells no topic', () => {
  expect(topicOf({ id: 'walk.battery-store' })).toBe(null);
  expect(topicOf({ id: 'label.telephone-room' })).toBe(null);
  expect(topicOf({ id: 'measure.sounder' })).toBe('loop');
});
