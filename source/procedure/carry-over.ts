import { isIsolation, lookUp } from './lookup.ts';
import { inOrder, reopened, withExclusions } from './settle.ts';
import type { JobContext, JobState, StepStatus } from './state.ts';
import type { Procedure, Step, SupplyState } from './step.ts';

/**
 * The state of a job after a correction: a step whose definition is unchanged keeps its state, a changed one
 * opens again with all that rests on it, a vanished one is struck (its records stay in the journal).
 * Added conductors and added sources put an earlier proof of dead out of force.
 */
export function carryOver(before: Procedure, state: JobState, after: Procedure): JobState {
  const old = lookUp(before).steps;
  const changed = after.steps.filter((step) => !isSame(old.get(step.id), step)).map((step) => step.id);
  const moved = withSteps(state, after);
  const { branches, status } = moved.context;
  const kept: JobContext = { ...moved.context, status: withExclusions(after, status, branches) };
  const context = reopened(after, kept, changed);
  const supply = supplyAfter(before, state.supply, after, context);
  const owed =
    supply === 'unproven'
      ? supply === state.supply && !hasMore(before, after)
        ? context.owed
        : 'full'
      : 'none';
  return { ...state, supply, context: { ...context, owed } };
}

/** A state with the steps of another procedure: what both have stands as it stood, what is new is open. */
export function withSteps(state: JobState, after: Procedure): JobState {
  const status = Object.fromEntries(
    after.steps.map((step): [string, StepStatus] => [step.id, state.context.status[step.id] ?? 'open']),
  );
  const branches = Object.fromEntries(
    after.steps.flatMap((step) => {
      const chosen = state.context.branches[step.id];
      return chosen === undefined ? [] : [[step.id, chosen]];
    }),
  );
  // A stop outlives a correction, as long as the step that ends it is there; a stop of everything always has its own.
  const stops = inOrder(after, state.context.stops);
  return { ...state, context: { ...state.context, status, branches, stops } };
}

function supplyAfter(
  before: Procedure,
  supply: SupplyState,
  after: Procedure,
  context: JobContext,
): SupplyState {
  if (supply !== 'dead' && supply !== 'unproven') return supply;
  const openSource = after.steps.some(
    (step) => isIsolation(step) && ['open', 'unknown'].includes(context.status[step.id] ?? 'open'),
  );
  if (openSource) return 'isolating';
  return hasMore(before, after) ? 'unproven' : supply;
}

function hasMore(before: Procedure, after: Procedure): boolean {
  const known = new Set(before.conductors);
  return after.conductors.some((conductor) => !known.has(conductor));
}

/** What a correction does to the steps, by id: for showing the difference before it is adopted. */
export function stepChanges(
  before: Procedure,
  after: Procedure,
): { readonly added: string[]; readonly changed: string[]; readonly struck: string[] } {
  const old = lookUp(before).steps;
  const now = lookUp(after).steps;
  return {
    added: after.steps.filter((step) => !old.has(step.id)).map((step) => step.id),
    changed: after.steps
      .filter((step) => old.has(step.id) && !isSame(old.get(step.id), step))
      .map((step) => step.id),
    struck: before.steps.filter((step) => !now.has(step.id)).map((step) => step.id),
  };
}

function isSame(a: Step | undefined, b: Step): boolean {
  return a !== undefined && ordered(a) === ordered(b);
}

/** Stored steps come back with their keys in another order; the order never counts. */
function ordered(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) =>
    typeof part === 'object' && part !== null && !Array.isArray(part)
      ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)))
      : part,
  );
}
