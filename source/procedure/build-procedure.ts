import type { Plan } from '../plan/plan.ts';
import { fold } from '../wiring/act-on.ts';
import type { Wiring } from '../wiring/wiring.ts';
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
  verifyWhole(steps);
  verifyDoable(plan.wiring, steps);
  return {
    steps: withoutImplied(steps),
    found: plan.wiring,
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

/** A gate that waits for a step which is not there would never open, or never have been one. */
function verifyWhole(steps: readonly Step[]): void {
  const ids = new Set<string>();
  for (const step of steps) {
    if (ids.has(step.id)) throw new Error(`Two steps are called ${step.id}.`);
    ids.add(step.id);
  }
  for (const step of steps) {
    for (const id of [...step.waitsFor, ...step.onlyIf.map((branch) => branch.step)]) {
      if (!ids.has(id)) throw new Error(`${step.id} waits for ${id}, which is no step of this job.`);
    }
  }
}

/** Cards that cannot be done one after the other, as they stand, would be met by somebody with a wire in hand. */
function verifyDoable(found: Wiring, steps: readonly Step[]): void {
  const acts = steps.flatMap((step) => step.acts.map((act) => ({ act, went: 'done' as const })));
  const [misfit] = fold(found, acts).misfits;
  if (misfit !== undefined) throw new Error(`${JSON.stringify(misfit.act)} cannot be done: ${misfit.says}`);
}

/**
 * Without the edges that say nothing: what a step waits for through another that it waits for. Not through one
 * that a choice can rule out, for that one then vouches for nothing.
 */
function withoutImplied(steps: readonly Step[]): Step[] {
  const byId = new Map(steps.map((step) => [step.id, step]));
  const implied = new Map<string, ReadonlySet<string>>();
  const impliedBy = (id: string): ReadonlySet<string> => {
    const known = implied.get(id);
    if (known) return known;
    const step = byId.get(id);
    const vouches = step !== undefined && step.onlyIf.length === 0;
    const found = new Set(vouches ? step.waitsFor.flatMap((one) => [one, ...impliedBy(one)]) : []);
    implied.set(id, found);
    return found;
  };
  return steps.map((step) => {
    const waitsFor = [...new Set(step.waitsFor)];
    const said = new Set(waitsFor.flatMap((id) => [...impliedBy(id)]));
    return { ...step, waitsFor: waitsFor.filter((id) => !said.has(id)) };
  });
}
