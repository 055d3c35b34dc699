import type { Act } from '../wiring/act.ts';
import type { StepStatus } from './state.ts';
import type { Procedure, Step } from './step.ts';

/** What stands in a procedure, found by id; made once for each procedure. */
type Lookup = {
  readonly steps: ReadonlyMap<string, Step>;
  /** For each step, every step that rests on it, however far behind: by waiting for it or by its branch. */
  readonly dependents: ReadonlyMap<string, readonly string[]>;
  /** Steps whose answer opens and closes others. */
  readonly branching: ReadonlySet<string>;
};

const lookups = new WeakMap<Procedure, Lookup>();

/** The procedure's steps by id. A pure function of the procedure, remembered. */
export function lookUp(procedure: Procedure): Lookup {
  const known = lookups.get(procedure);
  if (known) return known;
  const steps = new Map(procedure.steps.map((step) => [step.id, step]));
  const branching = new Set(procedure.steps.flatMap((step) => step.onlyIf.map((branch) => branch.step)));
  let dependents: Lookup['dependents'] | undefined;
  const made: Lookup = {
    steps,
    branching,
    // Made when it is asked for: only what reopens steps, or could, asks for it.
    get dependents() {
      dependents ??= dependentsOf(procedure.steps);
      return dependents;
    },
  };
  lookups.set(procedure, made);
  return made;
}

function dependentsOf(steps: readonly Step[]): Map<string, readonly string[]> {
  const direct = new Map<string, string[]>(steps.map((step) => [step.id, []]));
  for (const step of steps) {
    for (const id of restsOn(step)) direct.get(id)?.push(step.id);
  }
  const order = new Map(steps.map((step, place) => [step.id, place]));
  const closure = (id: string): string[] => {
    const found = new Set<string>();
    const queue = [...(direct.get(id) ?? [])];
    for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
      if (found.has(next)) continue;
      found.add(next);
      queue.push(...(direct.get(next) ?? []));
    }
    return [...found].sort((a, b) => (order.get(a) ?? 0) - (order.get(b) ?? 0));
  };
  return new Map(steps.map((step) => [step.id, closure(step.id)]));
}

/** Ids of the steps that one rests on directly. */
export function restsOn(step: Step): string[] {
  return [...step.waitsFor, ...step.onlyIf.map((branch) => branch.step)];
}

const TOUCHING: ReadonlySet<Act['do']> = new Set([
  'lift',
  'part',
  'cut',
  'land',
  'remove-resistor',
  'fit-resistor',
  'splice',
  'set-jumper',
  'move',
]);

/** Whether the step puts hands on a field or panel conductor. */
export function touchesWiring(step: Step): boolean {
  return step.acts.some((act) => TOUCHING.has(act.do));
}

/** Whether the step's isolation is one of those that a proof of dead rests on. */
export function isolates(step: Step): boolean {
  return step.acts.some((act) => act.do === 'isolate');
}

/** Whether a proof of dead rests on the step: it isolates a source, or looks for one while isolating. */
export function isIsolation(step: Step): boolean {
  if (step.repeatable) return false;
  // A test that takes a source off and puts it back rests on the proof no more than it makes one.
  return step.needs === 'isolating' || (isolates(step) && !connectsSource(step));
}

/** Whether the step gives power to a board. */
export function connectsSource(step: Step): boolean {
  return step.acts.some((act) => act.do === 'connect-source');
}

/**
 * Whether opening the step's card is put on record before its result: what it does can be half done when a
 * sitting ends.
 */
export function recordsBegin(step: Step): boolean {
  return touchesWiring(step) || isolates(step) || connectsSource(step);
}

/** Done, given up with a reason, or ruled out: what a waiting step asks of those before it. */
export function isSettled(status: StepStatus | undefined): boolean {
  return status === 'done' || status === 'deviated' || status === 'excluded';
}
