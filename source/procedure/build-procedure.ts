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
import { STOP_STEPS, withStops } from './stops.ts';

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
  const steps = withStops([...builders.flatMap((build) => build(facts)), ...STOP_STEPS]);
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
  const all = withImplied(steps);
  return steps.map((step) => {
    const waitsFor = [...new Set(step.waitsFor)];
    const said = newRow(steps.length);
    for (const id of waitsFor) add(said, all.rows.get(id) ?? []);
    return { ...step, waitsFor: waitsFor.filter((id) => !has(said, all.places.get(id))) };
  });
}

/** A bit for each step: with hundreds of detectors, sets of names took most of the time of a start. */
type Row = Uint32Array;

const newRow = (steps: number): Row => new Uint32Array(Math.ceil(steps / 32));
const has = (row: Row, place: number | undefined) =>
  place !== undefined && (((row[place >>> 5] ?? 0) >>> (place & 31)) & 1) === 1;

function add(row: Row, more: ArrayLike<number>): void {
  for (let at = 0; at < more.length; at++) row[at] = (row[at] ?? 0) | (more[at] ?? 0);
}

/** What each step vouches for: all that it waits for, by itself or through others. */
function withImplied(steps: readonly Step[]) {
  const places = new Map(steps.map((step, at) => [step.id, at]));
  const rows = new Map<string, Row>();
  const rowOf = (id: string): Row => {
    const known = rows.get(id);
    if (known) return known;
    const row = newRow(steps.length);
    rows.set(id, row);
    const step = steps[places.get(id) ?? -1];
    if (step === undefined || step.onlyIf.length > 0) return row;
    for (const one of step.waitsFor) {
      const place = places.get(one);
      if (place !== undefined) row[place >>> 5] = (row[place >>> 5] ?? 0) | (1 << (place & 31));
      add(row, rowOf(one));
    }
    return row;
  };
  for (const { id } of steps) rowOf(id);
  return { places, rows };
}
