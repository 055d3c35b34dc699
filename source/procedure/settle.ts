import { connectsSource, isolates, lookUp, recordsBegin } from './lookup.ts';
import type { JobContext, JobEvent, StepStatus } from './state.ts';
import type { Procedure, Step, SupplyState } from './step.ts';
import type { StopCode } from './stop-table.ts';
import { openerOf } from './stops.ts';

type Status = Record<string, StepStatus>;

/**
 * What an event that was let through does to the context, but for `owed`, which moves with the supply.
 * Judges nothing: the gates have spoken before.
 */
export function settle(
  procedure: Procedure,
  supply: SupplyState,
  context: JobContext,
  event: JobEvent,
): JobContext {
  switch (event.type) {
    case 'begin':
      return begun(procedure, context, event.step);
    case 'confirm':
      return confirmed(procedure, supply, context, event);
    case 'fail':
      return notPassed(procedure, context, event.step);
    case 'deviate':
      return withStatus(context, event.step, 'deviated');
    case 'reopen':
      return reopened(procedure, context, [event.step]);
    case 'start-shift':
      return { ...halfSaid(context), person: event.person, sitting: event.sitting };
    case 'interrupted':
      return { ...(ENDS_SITTING.has(event.why) ? halfSaid(context) : context), sitting: event.sitting };
    case 'pause':
    case 'leave':
      return { ...halfSaid(context), sitting: 'none' };
    case 'doubt':
    case 'close':
      return context;
  }
}

/** A gap, a clock that was set or a test does not end the sitting: the same person still stands there. */
const ENDS_SITTING: ReadonlySet<string> = new Set(['new-sitting', 'person', 'boot']);

function withStatus(context: JobContext, step: string, status: StepStatus): JobContext {
  if (context.status[step] === status) return context;
  return { ...context, status: { ...context.status, [step]: status } };
}

function begun(procedure: Procedure, context: JobContext, id: string): JobContext {
  // How a step left half said was found is asked for at its proof; beginning it again must not lose that.
  if (context.status[id] === 'unknown') return context;
  const step = lookUp(procedure).steps.get(id);
  return step && recordsBegin(step) ? withStatus(context, id, 'begun') : context;
}

function confirmed(
  procedure: Procedure,
  supply: SupplyState,
  context: JobContext,
  event: Extract<JobEvent, { type: 'confirm' }>,
): JobContext {
  if (event.verdict === 'failed') {
    const failed = notPassed(procedure, context, event.step);
    return event.stop === undefined ? failed : stopped(procedure, failed, event.step, event.stop);
  }
  const step = lookUp(procedure).steps.get(event.step);
  const after = withStatus(goneOn(context, event.step), event.step, step?.repeatable ? 'open' : 'done');
  if (event.option !== null) return branched(procedure, after, event.step, event.option);
  return step?.effect === 'isolate' && supply === 'energised' ? disconnected(procedure, after) : after;
}

/** The work stops, where the procedure holds the step that opens it again: one of an earlier version may not. */
function stopped(procedure: Procedure, context: JobContext, step: string, code: StopCode): JobContext {
  const opener = openerOf(code, step);
  if (!lookUp(procedure).steps.has(opener)) return context;
  return { ...context, stops: inOrder(procedure, { ...context.stops, [opener]: code }) };
}

function goneOn(context: JobContext, step: string): JobContext {
  if (!(step in context.stops)) return context;
  const { [step]: _, ...stops } = context.stops;
  return { ...context, stops };
}

/** What is offered again and again has no lasting result: the supply's state says how it went. */
function notPassed(procedure: Procedure, context: JobContext, id: string): JobContext {
  return withStatus(context, id, lookUp(procedure).steps.get(id)?.repeatable ? 'open' : 'failed');
}

function branched(procedure: Procedure, context: JobContext, step: string, option: string): JobContext {
  const branches = inOrder(procedure, { ...context.branches, [step]: option });
  return { ...context, branches, status: withExclusions(procedure, context.status, branches) };
}

/** Isolating takes every adapter and battery lead off again: connecting them is to be done once more. */
function disconnected(procedure: Procedure, context: JobContext): JobContext {
  const connecting = procedure.steps.filter(
    (step) => step.needs !== 'any' && connectsSource(step) && context.status[step.id] !== 'excluded',
  );
  const plain = { ...context.status };
  for (const step of connecting) plain[step.id] = 'open';
  const behind = connecting.flatMap((step) => lookUp(procedure).dependents.get(step.id) ?? []);
  return reopenSteps(procedure, { ...context, status: plain }, new Set(behind));
}

/** Opens steps again with all that rests on them. What was physically done stays done: it becomes `unknown`. */
export function reopened(procedure: Procedure, context: JobContext, ids: readonly string[]): JobContext {
  const { dependents } = lookUp(procedure);
  return reopenSteps(procedure, context, new Set(ids.flatMap((id) => [id, ...(dependents.get(id) ?? [])])));
}

function reopenSteps(procedure: Procedure, context: JobContext, ids: ReadonlySet<string>): JobContext {
  const { steps } = lookUp(procedure);
  const status: Status = { ...context.status };
  for (const id of ids) {
    const step = steps.get(id);
    if (step && !step.repeatable) status[id] = statusWhenReopened(step, status[id]);
  }
  const kept = Object.entries(context.branches).filter(([id]) => !ids.has(id));
  const branches = inOrder(procedure, Object.fromEntries(kept));
  return { ...context, branches, status: withExclusions(procedure, status, branches) };
}

function statusWhenReopened(step: Step, status: StepStatus | undefined): StepStatus {
  const mayBeDone = status !== 'open' && status !== 'excluded' && status !== undefined;
  const physical = step.acts.length > 0 && (recordsBegin(step) || isolates(step));
  return mayBeDone && physical ? 'unknown' : 'open';
}

/** Keys in the order of the procedure, so that equal states are equal bytes however they came about. */
export function inOrder<T extends string>(
  procedure: Procedure,
  given: Readonly<Record<string, T>>,
): Record<string, T> {
  return Object.fromEntries(
    procedure.steps.flatMap(({ id }): [string, T][] => {
      const one = given[id];
      return one === undefined ? [] : [[id, one]];
    }),
  );
}

/** Steps that a chosen option rules out become `excluded`; those it no longer rules out open again. */
export function withExclusions(
  procedure: Procedure,
  status: Readonly<Record<string, StepStatus>>,
  branches: Readonly<Record<string, string>>,
): Status {
  const after: Status = { ...status };
  for (const step of procedure.steps) {
    const out = step.onlyIf.some((branch) => {
      const chosen = branches[branch.step];
      return chosen === undefined ? after[branch.step] === 'excluded' : !branch.options.includes(chosen);
    });
    if (out) after[step.id] = 'excluded';
    else if (after[step.id] === 'excluded') after[step.id] = 'open';
  }
  return after;
}

/** When a sitting ends, nobody can say how far a step got that was begun and not finished. */
function halfSaid(context: JobContext): JobContext {
  if (!Object.values(context.status).includes('begun')) return context;
  const told = Object.entries(context.status).map(([id, one]) => [id, one === 'begun' ? 'unknown' : one]);
  return { ...context, status: Object.fromEntries(told) };
}

/** The context of a job that nobody has touched yet. */
export function initialContext(procedure: Procedure): JobContext {
  const status = Object.fromEntries(procedure.steps.map((step) => [step.id, 'open' as const]));
  return { status, branches: {}, person: null, sitting: 'none', stops: {}, owed: 'none' };
}
