import type { Plan } from '../plan/plan.ts';
import { type Facts, readFacts } from './facts.ts';
import { clearSteps } from './stages/clear.ts';
import { handoverSteps } from './stages/handover.ts';
import { labelSteps } from './stages/label.ts';
import { measureSteps } from './stages/measure.ts';
import { mountSteps } from './stages/mount.ts';
import { notifySteps } from './stages/notify.ts';
import { planSteps } from './stages/plan.ts';
import { powerDownSteps } from './stages/power-down.ts';
import { powerUpSteps } from './stages/power-up.ts';
import { prepareSteps } from './stages/prepare.ts';
import { resistorSteps } from './stages/resistors.ts';
import { rewireSteps } from './stages/rewire.ts';
import { splitSteps } from './stages/split.ts';
import { surveySteps } from './stages/survey.ts';
import { walkTestSteps } from './stages/walk-test.ts';
import type { Procedure, Step } from './step.ts';

/** The stages in the order of the job. A survey of the outside alone leads up to the open door and no further. */
const BUILDERS: readonly ((facts: Facts) => Step[])[] = [
  surveySteps,
  planSteps,
  prepareSteps,
  notifySteps,
  powerDownSteps,
  labelSteps,
  measureSteps,
  resistorSteps,
  splitSteps,
  clearSteps,
  mountSteps,
  rewireSteps,
  powerUpSteps,
  walkTestSteps,
  handoverSteps,
];

/** The steps of one installation, from its plan: data, to be stored with the job. */
export function buildProcedure(plan: Plan): Procedure {
  const facts = readFacts(plan);
  const builders = plan.survey.complete ? BUILDERS : BUILDERS.slice(0, 1);
  const steps = builders.flatMap((build) => build(facts));
  const known = new Set(steps.map((step) => step.id));
  return {
    steps: steps.map((step) => ({
      ...step,
      waitsFor: [...new Set(step.waitsFor)].filter((id) => known.has(id)),
    })),
    interruptionSeconds: plan.survey.policy.interruptionSeconds,
    conductors: facts.conductors.map((one) => one.id),
    blocked: plan.verdict === 'blocked' && plan.survey.complete,
    incomplete: !plan.survey.complete,
    mainsFed: facts.mainsFed,
    lifeSafety: {
      conductors: [...facts.held.conductors],
      shared: [...facts.shared],
    },
  };
}
