import { INVARIANTS, type Passage } from '../../source/procedure/invariants.ts';
import { recordsBegin } from '../../source/procedure/lookup.ts';
import { isPermitted } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import type { Procedure, Step } from '../../source/procedure/step.ts';
import type { StopCode } from '../../source/procedure/stop-table.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';

/** Which steps may be begun, may fail and may be reopened; every step may pass and, where soft, be given up. */
export type Repertoire = {
  readonly stops: (step: Step) => StopCode | null;
  readonly begins: (step: Step) => boolean;
  readonly fails: (step: Step) => boolean;
  readonly reopens: (step: Step) => boolean;
};

const named = (...ids: string[]) => {
  const set = new Set(ids);
  return (step: Step) => set.has(step.id);
};

/** Failures and half-said steps where they move the supply or leave wires half done. */
export const STOPS_MET: Repertoire['stops'] = ({ id }) =>
  id === 'supply.prove' ? 'voltage' : id === 'centre.end' ? 'not-on-test' : null;

export const USUAL: Repertoire = {
  stops: STOPS_MET,
  begins: named('isolate.battery', 'measure.z1', 'rewire.z1', 'power.adapter'),
  fails: named(
    'supply.prove',
    'measure.z1',
    'clear.voltage',
    'cold.voltage',
    'power.adapter',
    'rewire.z1',
    'walk.shutter',
  ),
  reopens: named(
    'life-safety.decision',
    'isolate.battery',
    'label.c1',
    'measure.z1',
    'rewire.z1',
    'prepare.bench',
    'prepare.adapter.b1',
    'supply.isolate',
  ),
};

export const FULL: Repertoire = { ...USUAL, begins: recordsBegin, reopens: () => true };

export function branchOptions(step: Step): string[] {
  return step.proof.flatMap((proof) =>
    proof.kind === 'choice'
      ? proof.options.filter((option) => option.leads === 'branch').map((option) => option.id)
      : [],
  );
}

/** Every event that can happen to a job of this procedure. */
export function eventsOf(procedure: Procedure, repertoire: Repertoire): JobEvent[] {
  const ofSteps = procedure.steps.flatMap((step): JobEvent[] => {
    const options = branchOptions(step);
    const { id } = step;
    const stop = repertoire.stops(step);
    return [
      ...(recordsBegin(step) && repertoire.begins(step) ? [{ type: 'begin', step: id } as const] : []),
      ...(options.length > 0 ? options : [null]).map(
        (option) => ({ type: 'confirm', step: id, verdict: 'passed', option }) as const,
      ),
      ...(repertoire.fails(step)
        ? [{ type: 'confirm', step: id, verdict: 'failed', option: null } as const]
        : []),
      ...(stop === null
        ? []
        : [{ type: 'confirm', step: id, verdict: 'failed', option: null, stop } as const]),
      { type: 'deviate', step: id },
      ...(repertoire.reopens(step) ? [{ type: 'reopen', step: id } as const] : []),
    ];
  });
  return [
    ...ofSteps,
    { type: 'start-shift', person: 'p1', sitting: 'screens' },
    { type: 'interrupted', why: 'gap', sitting: 'screens' },
    { type: 'doubt' },
    { type: 'pause' },
    { type: 'close' },
    ...impossible(procedure),
  ];
}

/** What no gate may ever let through: a step that is not there, a branch without its option, an option nobody asked for. */
function impossible(procedure: Procedure): JobEvent[] {
  const pass = (step: string, option: string | null): JobEvent => ({
    type: 'confirm',
    step,
    verdict: 'passed',
    option,
  });
  const branching = procedure.steps.filter((step) => branchOptions(step).length > 0);
  return [
    pass('no.such-step', null),
    ...branching.flatMap(({ id }) => [pass(id, null), pass(id, 'no-such-option')]),
    ...procedure.steps.slice(-1).map(({ id }) => pass(id, 'no-such-option')),
  ];
}

const CODES: Readonly<Record<string, string>> = {
  open: 'o',
  begun: 'b',
  done: 'd',
  failed: 'f',
  deviated: 'v',
  excluded: 'x',
  unknown: 'u',
};

/** One string for one canonical state: status in procedure order, branches, supply, job, owed, person, sitting. */
export function keyOf(procedure: Procedure, state: JobState): string {
  const { status, branches, stops, owed, person, sitting } = state.context;
  const codes = procedure.steps.map((step) => CODES[status[step.id] ?? ''] ?? '?').join('');
  const chosen = procedure.steps.flatMap((step) => branches[step.id] ?? []).join(',');
  return `${codes}|${chosen}|${state.supply}|${state.job}|${owed}|${person}|${sitting}|${Object.keys(stops)}`;
}

export type Explored = {
  readonly states: number;
  readonly transitions: number;
  readonly refusals: number;
  readonly broken: { readonly number: number; readonly event: JobEvent } | null;
};

/** Every state that can be reached, each transition held against the invariants of the procedure as it should be. */
export function explore(procedure: Procedure, events: readonly JobEvent[], atMost = 5_000_000): Explored {
  const first = initialState(procedure);
  const seen = new Set([keyOf(procedure, first)]);
  const queue = [first];
  let [transitions, refusals] = [0, 0];
  for (let before = queue.pop(); before !== undefined && seen.size < atMost; before = queue.pop()) {
    for (const event of events) {
      if (!isPermitted(procedure, before, event)) {
        refusals += 1;
        continue;
      }
      const after = nextState(procedure, before, event);
      transitions += 1;
      const number = brokenBy({ procedure, before, event, after });
      if (number !== null) return { states: seen.size, transitions, refusals, broken: { number, event } };
      const key = keyOf(procedure, after);
      if (seen.has(key)) continue;
      seen.add(key);
      queue.push(after);
    }
  }
  return { states: seen.size, transitions, refusals, broken: null };
}

/** The first invariant that a transition breaks, or null. */
export function brokenBy(passage: Passage): number | null {
  return INVARIANTS.find((invariant) => !invariant.holds(passage))?.number ?? null;
}
