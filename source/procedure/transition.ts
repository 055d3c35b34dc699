import { createActor, initialTransition } from 'xstate';
import { GUARDS, type Guard } from './guards.ts';
import { type JobMachine, jobMachine } from './machine.ts';
import type { JobEvent, JobState } from './state.ts';
import type { Procedure, SupplyState } from './step.ts';

/** The machine's own form of states it came to: making it again from the state takes as long as a transition. */
const snapshots = new WeakMap<JobState, { machine: JobMachine; snapshot: ReturnType<typeof snapshotOf> }>();
type JobScope = Parameters<JobMachine['transition']>[2];
const scopes = new WeakMap<JobMachine, JobScope>();
const machines = new WeakMap<Procedure, WeakMap<readonly Guard[], JobMachine>>();

/** The state of a job that nobody has touched: everything live, every step open. */
export function initialState(procedure: Procedure): JobState {
  const [snapshot] = initialTransition(machineOf(procedure, GUARDS));
  return stateOf(snapshot);
}

/**
 * The state after an event; the very same state where a gate is shut (ask `reasons` why). Pure: live run and replay
 * are one and the same function.
 *
 * @param guards the table of gates; handed in only to show that each of its entries is needed
 */
export function nextState(
  procedure: Procedure,
  state: JobState,
  event: JobEvent,
  guards: readonly Guard[] = GUARDS,
): JobState {
  const machine = machineOf(procedure, guards);
  const known = snapshots.get(state);
  const before = known?.machine === machine ? known.snapshot : snapshotOf(machine, state);
  const snapshot = machine.transition(before, event, scopeOf(machine));
  const after = stateOf(snapshot);
  // A refusal touches nothing: the very same state says so to whoever compares.
  if (snapshot.context === before.context && after.supply === state.supply && after.job === state.job)
    return state;
  snapshots.set(after, { machine, snapshot });
  return after;
}

/**
 * What a transition runs in: nothing is started, sent or logged. XState's own `transition()` makes an actor with its
 * initial state for every event, which takes longer than the transition.
 */
function scopeOf(machine: JobMachine): JobScope {
  const known = scopes.get(machine);
  if (known) return known;
  const self = createActor(machine);
  const nothing = () => undefined;
  const scope: JobScope = {
    self,
    system: self.system,
    id: '',
    sessionId: '',
    logger: nothing,
    defer: nothing,
    emit: nothing,
    stopChild: nothing,
    actionExecutor: nothing,
  };
  scopes.set(machine, scope);
  return scope;
}

/** The machine's own form of a state. */
export function snapshotOf(machine: JobMachine, state: JobState) {
  return machine.resolveState({
    value: { supply: state.supply, job: state.job },
    context: state.context,
  });
}

/** A state as the rest of the program knows it: plain JSON. */
export function stateOf(snapshot: ReturnType<typeof snapshotOf>): JobState {
  const value = snapshot.value as { supply: SupplyState; job: JobState['job'] };
  return { supply: value.supply, job: value.job, context: snapshot.context };
}

function machineOf(procedure: Procedure, guards: readonly Guard[]): JobMachine {
  const known = machines.get(procedure) ?? new WeakMap<readonly Guard[], JobMachine>();
  machines.set(procedure, known);
  const machine = known.get(guards) ?? jobMachine(procedure, guards);
  known.set(guards, machine);
  return machine;
}
