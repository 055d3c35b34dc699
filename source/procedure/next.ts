import { missingSteps } from './guards.ts';
import { isSettled, lookUp } from './lookup.ts';
import { presentStep } from './present.ts';
import { reasons } from './reasons.ts';
import type { JobState } from './state.ts';
import type { Procedure, Stage, Step } from './step.ts';
import { isStopStep } from './stops.ts';
import { nextState } from './transition.ts';
import { isOffered } from './words.ts';

/** What only says that nobody has begun to work: it locks no step by itself. */
const WHO: ReadonlySet<string> = new Set(['no-person', 'no-sitting']);

function why(procedure: Procedure, state: JobState, step: Step) {
  const event = { type: 'begin', step: step.id } as const;
  return reasons(procedure, state, event).filter((reason) => !WHO.has(reason.code));
}

/**
 * The steps that may be done now, as they stand now. First the proofs that are owed, then the work in the order
 * of the procedure, and last what takes power away again or gives it for a night: never the next thing to do.
 */
export function openSteps(procedure: Procedure, state: JobState): Step[] {
  return offered(procedure, state).map((step) => presentStep(procedure, state, step));
}

/** Power for a night is no choice once everything is finished: then there is power for good. */
function offered(procedure: Procedure, state: JobState): Step[] {
  const open = procedure.steps.filter((step) => why(procedure, state, step).length === 0);
  const isFinished = open.some((step) => step.effect === 'energise' && !step.repeatable);
  return open
    .filter((step) => !(isFinished && step.effect === 'energise' && step.repeatable))
    .sort((a, b) => rank(a, state) - rank(b, state));
}

/** On offer to the end, and no work that is left. */
const NEVER_NEXT = 3;

function rank(step: Step, state: JobState): number {
  if (isStopStep(step)) return -1;
  if (!step.repeatable) return 1;
  if (state.supply === 'unproven' && step.effect === 'prove-short') return 0;
  if (state.supply === 'unproven' && step.effect === 'prove') return state.context.owed === 'short' ? 2 : 0;
  if (step.effect === 'energise') return NEVER_NEXT;
  return step.effect === 'isolate' && state.supply !== 'live' ? NEVER_NEXT : 1;
}

/** What is offered first once a step has passed; null where that is nothing, or cannot be told. */
export function stepAfter(procedure: Procedure, state: JobState, step: Step): Step | null {
  if (!lookUp(procedure).branching.has(step.id)) return afterOption(procedure, state, step, null);
  const branches = step.proof
    .flatMap((proof) => (proof.kind === 'choice' ? proof.options : []))
    .filter(({ leads }) => leads === 'branch');
  const ways = branches.map(({ id }) => afterOption(procedure, state, step, id));
  // Where the answer decides what comes next, nothing is promised before it is given.
  const [first = null] = ways;
  return ways.every((way) => way?.id === first?.id) ? first : null;
}

function afterOption(procedure: Procedure, state: JobState, step: Step, option: string | null): Step | null {
  const after = nextState(procedure, state, { type: 'confirm', step: step.id, verdict: 'passed', option });
  if (after === state) return null;
  return offered(procedure, after).find((one) => rank(one, after) < NEVER_NEXT) ?? null;
}

type LockedStep = {
  readonly id: string;
  readonly waitingFor: readonly string[];
  readonly says: string;
};

/** The steps that may not be done now, with what opens them. Settled steps and proofs not asked for are in neither list. */
export function lockedSteps(procedure: Procedure, state: JobState): LockedStep[] {
  if (state.job === 'closed') return [];
  return procedure.steps.flatMap((step) => {
    if (isSettled(state.context.status[step.id]) || (step.repeatable && !isOffered(step, state))) return [];
    const shut = why(procedure, state, step);
    if (shut.length === 0) return [];
    const says = shut.map((reason) => reason.says).join(' ');
    return [{ id: step.id, waitingFor: waitingFor(procedure, state, step), says }];
  });
}

function waitingFor(procedure: Procedure, state: JobState, step: Step): string[] {
  const branches = step.onlyIf.map((branch) => branch.step);
  const undecided = branches.filter((id) => !isSettled(state.context.status[id]));
  const steps = [...missingSteps(state, step), ...undecided];
  if (step.needs === 'any' || step.needs === state.supply || step.repeatable) return [...new Set(steps)];
  const isolate = state.supply === 'live' ? (lookUp(procedure).steps.get('supply.isolate') ?? null) : null;
  return [...new Set([...steps, ...missingSteps(state, isolate), `supply:${step.needs}`])];
}

/** The stage in which the work stands: that of the step that is offered first, or else of the first that is left. */
export function stageOf(procedure: Procedure, state: JobState): Stage {
  const next = offered(procedure, state).find((step) => rank(step, state) < NEVER_NEXT);
  const left = procedure.steps.find((step) => !step.repeatable && !isSettled(state.context.status[step.id]));
  return (next ?? left)?.stage ?? 'handover';
}

/**
 * How far the job is, in cards that are settled: done, given up with a reason, or ruled out by a choice. So the total
 * stands still while the plan does. What is offered again and again is not counted.
 */
export function counts(procedure: Procedure, state: JobState): { done: number; total: number } {
  const counted = procedure.steps.filter((step) => !step.repeatable);
  const done = counted.filter((step) => isSettled(state.context.status[step.id]));
  return { done: done.length, total: counted.length };
}

/** Ids of the steps that passed. */
export function doneSteps(procedure: Procedure, state: JobState): string[] {
  return procedure.steps.filter((step) => state.context.status[step.id] === 'done').map((step) => step.id);
}

/** What closing the job still needs; empty once it may be closed. */
export function closeNeeds(procedure: Procedure, state: JobState): string[] {
  if (state.job === 'closed') return [];
  return reasons(procedure, state, { type: 'close' })
    .filter((reason) => !WHO.has(reason.code))
    .map((reason) => reason.says);
}
