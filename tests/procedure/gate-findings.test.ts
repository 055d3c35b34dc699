import { expect, test } from 'vitest';
import type { FindingCode } from '../../source/plan/finding-codes.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

/** A gate is told by the plan and kept by a step: for each finding of that severity, the steps of which one asks for it. */
const ASKED_BY: Partial<Record<FindingCode, readonly string[]>> = {
  'feed-unknown': ['electrician.record'],
  'mains-in-enclosure': ['electrician.record'],
  monitored: ['centre.on-test'],
  'telephone-line': ['isolate.telephone'],
  'foreign-supply': ['isolate.x1'],
  'output-mains': ['output.1'],
  'life-safety-held-out': ['life-safety.decision'],
  'life-safety-shares': ['life-safety.decision'],
  'sounder-own-battery': ['sounder.plan', 'sounder.look'],
  'sounder-needs-hold-off': ['sounder.hold-off'],
  'sounder-sense-unfit': ['clear.sounder'],
  'sounder-no-cutoff': ['walk.sounder'],
};

test('what the plan calls a gate is asked by a step of the procedure', () => {
  const met = new Set<FindingCode>();
  for (let seed = 0; seed < scale(800, 0.25); seed += 1) {
    const { survey, boards } = randomSurvey(seed);
    const plan = planChangeover(survey, boards);
    const { steps, blocked, incomplete } = buildProcedure(plan);
    if (blocked || incomplete) continue;
    for (const { code } of plan.findings.filter(({ severity }) => severity === 'gate')) {
      met.add(code);
      const asks = ASKED_BY[code];
      expect(asks, `${code} is a gate: name the step that asks for it in ASKED_BY here`).toBeDefined();
      const isAsked = steps.some(({ id }) => asks?.some((one) => id === one || id.startsWith(`${one}.`)));
      expect(isAsked, `seed ${seed}: no step asks for ${code}`).toBe(true);
    }
  }
  expect(met.size).toBeGreaterThan(8);
});
