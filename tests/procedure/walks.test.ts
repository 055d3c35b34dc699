import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { closeNeeds, counts, lockedSteps, openSteps, stageOf } from '../../source/procedure/next.ts';
import type { JobEvent } from '../../source/procedure/state.ts';
import type { Procedure } from '../../source/procedure/step.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { warnings } from '../../source/procedure/warnings.ts';
import { randomSurvey } from '../random-survey.ts';
import { report, scale } from '../scale.ts';
import { demoPlan } from './demo-plan.ts';
import { lead } from './lead.ts';
import { anyTyped, walk } from './walk.ts';

const WALKS = scale(2000, 0.01);
const ACTIONS = 400;
const demo = buildProcedure(demoPlan());

const mainsFed = (text: string) =>
  text
    .replace('feed: plug-in-transformer', 'feed: mains-in-enclosure')
    .replace('otherFeeds: none', 'otherFeeds: unknown');

function procedureOf(seed: number): Procedure {
  if (seed % 4 === 0) return demo;
  if (seed % 4 === 1) return buildProcedure(demoPlan(mainsFed));
  const { survey, boards } = randomSurvey(seed);
  return buildProcedure(planChangeover(survey, boards));
}

describe(`${WALKS} random walks of ${ACTIONS} actions, seeds from 0`, () => {
  test('no invariant is broken, nothing crashes, and a replay comes to the same state', {
    timeout: 1_200_000,
  }, () => {
    const sums = {
      walks: 0,
      actions: 0,
      accepted: 0,
      refused: 0,
      malformed: 0,
      closed: 0,
      'most cards done': 0,
    };
    for (let seed = 0; seed < WALKS; seed += 1) {
      const procedure = procedureOf(seed);
      const walked = walk(procedure, seed, ACTIONS);
      expect(walked.broken, `seed ${seed}`).toBeNull();
      const journal = JSON.parse(JSON.stringify(walked.events)) as JobEvent[];
      const replayed = journal.reduce(
        (at, event) => nextState(procedure, at, event),
        initialState(procedure),
      );
      expect(canonicalJson(replayed as unknown as Json), `seed ${seed}`).toBe(
        canonicalJson(walked.state as unknown as Json),
      );
      const { done } = counts(procedure, walked.state);
      sums.walks += 1;
      sums.actions += ACTIONS;
      sums.accepted += walked.events.length;
      sums.refused += walked.refused;
      sums.malformed += walked.malformed;
      sums.closed += walked.state.job === 'closed' ? 1 : 0;
      sums['most cards done'] = Math.max(sums['most cards done'], done);
      // What is shown of it is made without a crash wherever the walk ended.
      expect(
        openSteps(procedure, walked.state).length + lockedSteps(procedure, walked.state).length,
      ).toBeGreaterThanOrEqual(0);
      expect([
        stageOf(procedure, walked.state),
        warnings(procedure, walked.state),
        closeNeeds(procedure, walked.state),
      ]).toHaveLength(3);
    }
    report('Random walks', [sums]);
    expect(sums['most cards done']).toBeGreaterThan(20);
    expect(sums.refused).toBeGreaterThan(0);
    expect(sums.malformed).toBeGreaterThan(0);
  });
});

test('wherever a walk ends, honest work leads from there to the close', { timeout: 600_000 }, () => {
  for (let seed = 0; seed < scale(600, 0.05); seed += 1) {
    const procedure = procedureOf(seed);
    const { state } = walk(procedure, seed, 60 + (seed % 5) * 60);
    if (state.job === 'closed' || procedure.blocked) continue;
    const led = lead(procedure, [], state);
    expect(closeNeeds(procedure, led.state), `seed ${seed}: ${led.confirmed.slice(-8).join(' ')}`).toEqual(
      [],
    );
  }
});

test('no card crashes on whatever is typed into it', () => {
  fc.assert(
    fc.property(fc.nat(demo.steps.length - 1), fc.array(anyTyped, { maxLength: 12 }), (place, typed) => {
      const step = demo.steps[place]!;
      const values = Object.fromEntries(
        step.proof.map((proof, at) => [proof.field, typed[at % (typed.length || 1)]]),
      );
      const judged = judgeProof(step, values);
      if (!judged.ok)
        expect(judged.problems.every((one) => one.says.endsWith('.') || one.says.length > 0)).toBe(true);
    }),
    { numRuns: scale(5000, 0.1), seed: 7 },
  );
});
