import { GUARDS, type Guard } from '../../source/procedure/guards.ts';
import { isPermitted } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import type { Procedure, Step } from '../../source/procedure/step.ts';
import { looksForVoltage } from '../../source/procedure/supply.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { scale } from '../scale.ts';
import { brokenBy, keyOf } from './explore.ts';

/** The machine with one safeguard taken out. */
export type Mutant = {
  readonly kind:
    | 'gate opened'
    | 'edge dropped'
    | 'branch dropped'
    | 'need weakened'
    | 'made soft'
    | 'not swept';
  readonly what: string;
  readonly procedure: Procedure;
  readonly guards: readonly Guard[];
};

export type Caught = {
  /** The first thing that it lets through and the machine does not; null where nothing changes. */
  readonly lets: string | null;
  /** The invariant broken by that or by what follows; null where only the pinned figures tell. */
  readonly invariant: number | null;
};

/** Each gate opened, each edge dropped, each need weakened, each hard step made soft, each look for voltage left out. */
export function mutantsOf(procedure: Procedure): Mutant[] {
  const changed = (step: Step, to: Partial<Step>): Procedure => ({
    ...procedure,
    steps: procedure.steps.map((one) => (one === step ? { ...one, ...to } : one)),
  });
  const ofStep = (kind: Mutant['kind'], what: string, step: Step, to: Partial<Step>): Mutant => ({
    kind,
    what,
    procedure: changed(step, to),
    guards: GUARDS,
  });
  return [
    ...GUARDS.map((guard): Mutant => {
      const guards = GUARDS.map((one) => (one === guard ? { ...one, applies: () => false } : one));
      return { kind: 'gate opened', what: guard.code, procedure, guards };
    }),
    ...procedure.steps.flatMap((step) => [
      ...step.waitsFor.map((id) =>
        ofStep('edge dropped', `${step.id} on ${id}`, step, {
          waitsFor: step.waitsFor.filter((one) => one !== id),
        }),
      ),
      ...step.onlyIf.map((branch) =>
        ofStep('branch dropped', `${step.id} on ${branch.step}`, step, {
          onlyIf: step.onlyIf.filter((one) => one !== branch),
        }),
      ),
      ...(step.needs === 'any' ? [] : [ofStep('need weakened', `${step.id} to any`, step, { needs: 'any' })]),
      ...(looksForVoltage(step) ? [ofStep('not swept', step.id, step, { proof: [] })] : []),
      ...(step.hard && !step.repeatable ? [ofStep('made soft', step.id, step, { hard: false })] : []),
    ]),
  ];
}

/** All states that can be reached by these events. */
export function reachable(procedure: Procedure, events: readonly JobEvent[]): JobState[] {
  const first = initialState(procedure);
  const seen = new Set([keyOf(procedure, first)]);
  const states = [first];
  for (const state of states) {
    for (const event of events) {
      if (!isPermitted(procedure, state, event)) continue;
      const after = nextState(procedure, state, event);
      const key = keyOf(procedure, after);
      if (seen.has(key)) continue;
      seen.add(key);
      states.push(after);
    }
  }
  return states;
}

/** How many places of difference are looked at, and how far what follows is walked on from them. */
const PLACES = { ofEvent: 2, inAll: scale(60, 0.1) };
const STEPS_ON = scale(300, 0.2);

/**
 * Where a mutant first does otherwise, and whether an invariant of the procedure as it should be breaks there or
 * soon after.
 */
export function catchMutant(
  procedure: Procedure,
  mutant: Mutant,
  states: readonly JobState[],
  events: readonly JobEvent[],
): Caught {
  let lets: string | null = null;
  const places = new Map<JobEvent, number>();
  let looked = 0;
  for (const state of states) {
    for (const event of events) {
      const should = isPermitted(procedure, state, event);
      const may = isPermitted(mutant.procedure, state, event, mutant.guards);
      if (should === may && !(should && leadsElsewhere(procedure, mutant, state, event))) continue;
      const before = places.get(event) ?? 0;
      if (before >= PLACES.ofEvent) continue;
      places.set(event, before + 1);
      lets ??= `${event.type}${'step' in event ? ` ${event.step}` : ''} while ${state.supply}`;
      const invariant = walkOn(procedure, mutant, state, event, events);
      if (invariant !== null) return { lets, invariant };
      looked += 1;
      if (looked >= PLACES.inAll) return { lets, invariant: null };
    }
  }
  return { lets, invariant: null };
}

/**
 * A branch that is dropped shuts nothing by itself: it shows in what a choice rules out; a sweep left out in what its
 * failure does to the supply.
 */
function leadsElsewhere(procedure: Procedure, mutant: Mutant, state: JobState, event: JobEvent): boolean {
  if (event.type !== 'confirm') return false;
  const mayShow = mutant.kind === 'branch dropped' ? event.option !== null : mutant.kind === 'not swept';
  if (!mayShow) return false;
  return (
    keyOf(procedure, nextState(procedure, state, event)) !==
    keyOf(procedure, nextState(mutant.procedure, state, event, mutant.guards))
  );
}

function walkOn(
  procedure: Procedure,
  mutant: Mutant,
  from: JobState,
  first: JobEvent,
  events: readonly JobEvent[],
): number | null {
  const queue: [JobState, JobEvent][] = [[from, first]];
  const seen = new Set<string>();
  for (let taken = 0; taken < STEPS_ON; taken += 1) {
    const next = queue.shift();
    if (!next) return null;
    const [before, event] = next;
    const after = nextState(mutant.procedure, before, event, mutant.guards);
    const broken = brokenBy({ procedure, before, event, after });
    if (broken !== null) return broken;
    const key = keyOf(procedure, after);
    if (seen.has(key)) continue;
    seen.add(key);
    for (const other of events) {
      if (isPermitted(mutant.procedure, after, other, mutant.guards)) queue.push([after, other]);
    }
  }
  return null;
}
