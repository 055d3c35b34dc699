import { conductorsOf } from '../wiring/act.ts';
import { isSettled, lookUp, touchesWiring } from './lookup.ts';
import { presentOpenPoints } from './open-points.ts';
import type { JobState } from './state.ts';
import type { ChoiceProof, Procedure, Proof, Step, SweepProof } from './step.ts';
import { touring, wiringByNow } from './tour.ts';

/** What a step that was left half said, or reopened, asks first: what it did may still be done. */
export const AS_FOUND: ChoiceProof = {
  field: 'found',
  kind: 'choice',
  label: 'This step was opened before. How does what it does stand now?',
  options: [
    { id: 'as-it-was', label: 'As it was: nothing done', leads: 'pass' },
    { id: 'done', label: 'Done', leads: 'pass' },
    { id: 'partly', label: 'Partly done', leads: 'pass' },
    {
      id: 'not-sure',
      label: 'Cannot tell',
      leads: 'fail',
      follows: 'Touch nothing of it. Follow each of its wires by label and plan until you can tell.',
    },
  ],
};

/**
 * A step as it stands now: a step left half said asks first how it was found, and a proof of dead covers what
 * is still there to be touched, and no more.
 */
export function presentStep(procedure: Procedure, state: JobState, step: Step): Step {
  const proof = step.proof.map((one) => presentProof(procedure, state, step, one));
  const asked = state.context.status[step.id] === 'unknown' ? [AS_FOUND, ...proof] : proof;
  return { ...step, proof: asked };
}

function presentProof(procedure: Procedure, state: JobState, step: Step, proof: Proof): Proof {
  if (proof.kind !== 'sweep') return presentOpenPoints(procedure, state, step, proof);
  const now = proof.tour === undefined ? null : wiringByNow(procedure, state);
  if (now !== null) {
    const next = step.effect === 'prove-short' ? conductorsNext(procedure, state) : null;
    return touring(proof, now, keptLiveIn(state, proof), (id) => next?.has(id) ?? true);
  }
  if (step.effect === 'prove') return keeping(proof, isStillThere(procedure, state, proof));
  if (step.effect === 'prove-short') {
    const there = isStillThere(procedure, state, proof);
    const next = conductorsNext(procedure, state);
    const rail = (point: string) => !procedure.conductors.includes(point);
    return keeping(proof, (point) => there(point) && (rail(point) || next.has(point)));
  }
  const live = keptLiveIn(state, proof);
  return live.size > 0 ? keeping(proof, (point) => !live.has(point)) : proof;
}

/** Points that are live on purpose, by what was chosen. */
function keptLiveIn({ context }: JobState, { except = [] }: SweepProof): ReadonlySet<string> {
  return new Set(except.flatMap((one) => (context.branches[one.step] === one.option ? one.points : [])));
}

/** Never without a point: the first one stays, so that a sweep is always a sweep. */
function keeping(proof: SweepProof, keep: (point: string) => boolean): SweepProof {
  const points = proof.points.filter(keep);
  return { ...proof, points: points.length > 0 ? points : proof.points.slice(0, 1) };
}

/** A landed conductor has left the sweep, a removed panel its screws, a pair kept live on purpose by name. */
function isStillThere(procedure: Procedure, state: JobState, sweep: SweepProof): (point: string) => boolean {
  const done = procedure.steps.filter((step) => state.context.status[step.id] === 'done');
  const acts = done.flatMap((step) => step.acts);
  const landed = new Set(acts.flatMap((act) => (act.do === 'land' ? [act.conductor] : [])));
  const panelGone = acts.some((act) => act.do === 'remove' && act.what === 'panel');
  const live = keptLiveIn(state, sweep);
  return (point) => !landed.has(point) && !live.has(point) && !(panelGone && point.startsWith('old:'));
}

/** Conductors that the steps which are next would touch. */
function conductorsNext(procedure: Procedure, state: JobState): Set<string> {
  const { status } = state.context;
  const next = procedure.steps.filter(
    (step) =>
      touchesWiring(step) &&
      !isSettled(status[step.id]) &&
      step.waitsFor.every((id) => isSettled(status[id])),
  );
  return new Set(next.flatMap((step) => step.acts.flatMap(conductorsOf)));
}

/** A step of the procedure by id, as it stands now; undefined where there is none. */
export function presentStepById(procedure: Procedure, state: JobState, id: string): Step | undefined {
  const step = lookUp(procedure).steps.get(id);
  return step && presentStep(procedure, state, step);
}
