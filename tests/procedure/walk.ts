import fc from 'fast-check';
import { judgeProof } from '../../source/procedure/judge.ts';
import { openSteps } from '../../source/procedure/next.ts';
import { presentStep } from '../../source/procedure/present.ts';
import { isPermitted } from '../../source/procedure/reasons.ts';
import type { InterruptedWhy, JobEvent, JobState } from '../../source/procedure/state.ts';
import type { Procedure, Step } from '../../source/procedure/step.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { branchOptions, brokenBy } from './explore.ts';
import { confirmBy } from './lead.ts';

/** A small generator of chance, the same for the same seed (mulberry32). */
function chance(seed: number): () => number {
  let at = seed >>> 0;
  return () => {
    at = (at + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(at ^ (at >>> 15), at | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export type Walked = {
  readonly state: JobState;
  /** What was let through, as a journal would keep it. */
  readonly events: readonly JobEvent[];
  readonly refused: number;
  readonly malformed: number;
  readonly broken: { readonly number: number; readonly event: JobEvent } | null;
};

const WHYS: readonly InterruptedWhy[] = [
  'new-sitting',
  'person',
  'gap',
  'clock',
  'boot',
  'powered-test',
  'conductors-added',
];
const GARBAGE: readonly unknown[] = [
  '',
  ' ',
  '12.3.4',
  'OL',
  '-5 V',
  '1e99',
  'NaN',
  7,
  null,
  [],
  {},
  { greatest: '0 V' },
  '💥',
  'open',
  true,
];

/** Whoever walks this way does what is next half of the time, and anything at all otherwise. */
export function walk(procedure: Procedure, seed: number, actions: number): Walked {
  const random = chance(seed);
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  const events: JobEvent[] = [];
  let [state, refused, malformed] = [initialState(procedure), 0, 0];
  for (let count = 0; count < actions; count += 1) {
    if (random() < 0.05) malformed += typeGarbage(procedure, state, pick(procedure.steps), pick);
    const event = random() < 0.6 ? sensible(procedure, state, pick) : anything(procedure, pick);
    const may = isPermitted(procedure, state, event);
    const after = nextState(procedure, state, event);
    const number = brokenBy({ procedure, before: state, event, after });
    if (number !== null) return { state: after, events, refused, malformed, broken: { number, event } };
    if (!may && after !== state) throw new Error(`refused and yet done: ${JSON.stringify(event)}`);
    if (may) events.push(event);
    else refused += 1;
    state = after;
  }
  return { state, events, refused, malformed, broken: null };
}

type Pick = <T>(from: readonly T[]) => T;

function sensible(procedure: Procedure, state: JobState, pick: Pick): JobEvent {
  if (state.context.person === null || state.context.sitting === 'none') {
    return { type: 'start-shift', person: pick(['p1', 'p2']), sitting: pick(['screens', 'act']) };
  }
  const open = openSteps(procedure, state);
  const step = open.find((one) => !one.repeatable || open.length === 1) ?? open[0];
  return step
    ? confirmBy(step, [pick(['hold-off', 'sounds', 'impairment', 'none-found', 'done', 'seen'])])
    : { type: 'close' };
}

function anything(procedure: Procedure, pick: Pick): JobEvent {
  const step = pick(procedure.steps);
  const { id } = step;
  return pick<() => JobEvent>([
    () => ({ type: 'begin', step: id }),
    () => ({
      type: 'confirm',
      step: id,
      verdict: pick(['passed', 'failed', 'recorded']),
      option: option(step, pick),
    }),
    () => ({ type: 'fail', step: id }),
    () => ({ type: 'deviate', step: id }),
    () => ({ type: 'reopen', step: pick(['nothing.here', id, id]) }),
    () => ({ type: 'start-shift', person: pick(['p1', 'p2', 'p3']), sitting: pick(['screens', 'act']) }),
    () => ({ type: 'interrupted', why: pick(WHYS), sitting: pick(['screens', 'act', 'none']) }),
    () => ({ type: 'doubt' }),
    () => ({ type: 'pause' }),
    () => ({ type: 'leave' }),
    () => ({ type: 'close' }),
  ])();
}

function option(step: Step, pick: Pick): string | null {
  return pick([null, 'nonsense', ...branchOptions(step)]);
}

/** Garbage on a card is told so, and is no event at all. */
function typeGarbage(procedure: Procedure, state: JobState, step: Step, pick: Pick): number {
  const card = presentStep(procedure, state, step);
  const values = Object.fromEntries(
    [...card.proof.map((proof) => proof.field), 'nothing-like-it'].map((field) => [field, pick(GARBAGE)]),
  );
  return judgeProof(card, values).ok ? 0 : 1;
}

/** Anything that JSON can hold, for cards that must not crash whatever is typed. */
export const anyTyped = fc.oneof(
  fc.string(),
  fc.double(),
  fc.integer(),
  fc.boolean(),
  fc.constant(null),
  fc.jsonValue(),
);
