import type { ObservationProof, Proof, Step } from '../../procedure/step.ts';
import { deafSecondsIn, type HeardAnswer, type Hearing, inputIdOf } from './hearing.ts';
import { TOGETHER_MILLISECONDS } from './propose-heard.ts';
import { CHATTER_TIMES, type Pulse, pulsesOf } from './pulses.ts';

/** A detector of a tour: worked and restored, and what its input must show meanwhile. */
export type TourStop = {
  readonly step: string;
  readonly detector: string;
  readonly id: string;
  readonly worked: ObservationProof;
  readonly restored: ObservationProof;
};

/** What was heard of a stop. Only `heard` is a tick. */
export type TourState =
  | { readonly is: 'waiting' }
  /** Left its rest, and has not come back. */
  | { readonly is: 'worked'; readonly pulse: Pulse }
  | { readonly is: 'heard'; readonly pulse: Pulse }
  | { readonly is: 'chatters'; readonly pulse: Pulse }
  /** Other inputs moved in the same moment. */
  | { readonly is: 'together'; readonly pulse: Pulse; readonly others: readonly string[] }
  /** Another input was heard when this one's turn had come. */
  | { readonly is: 'elsewhere'; readonly heard: string }
  /** Heard when another one's turn had come. */
  | { readonly is: 'out-of-turn'; readonly pulse: Pulse; readonly asked: number }
  /** Each was heard when the other's turn had come: their landings are exchanged, or they were walked the other way. */
  | { readonly is: 'exchanged'; readonly pulse: Pulse; readonly with: number };

/** A detector with a step of its own that is worked and restored, and asks for nothing else while all is well. */
export function tourStops(steps: readonly Pick<Step, 'id' | 'proof'>[]): readonly TourStop[] {
  return steps.flatMap((step) => {
    const [worked, restored, ...more] = step.proof.filter(isObservation);
    const isOther = step.proof.some((proof) => !isObservation(proof) && !isFollowUp(proof));
    if (!worked || !restored || more.length > 0 || isOther) return [];
    if (inputIdOf(worked) !== inputIdOf(restored) || worked.expect === restored.expect) return [];
    return [{ step: step.id, detector: worked.detector, id: inputIdOf(worked), worked, restored }];
  });
}

const isObservation = (proof: Proof): proof is ObservationProof => proof.kind === 'observation';
const isFollowUp = (proof: Proof) =>
  proof.kind === 'reading' && proof.when !== undefined && 'seen' in proof.when;

/**
 * What was heard of each stop of a tour that is walked in the order of the stops. The order is what tells two exchanged
 * landings apart: an input is ticked when its turn has come, or when those before it were passed over. What was heard at
 * another's turn is never ticked by itself.
 *
 * @param from the first change that counts
 */
export function tourOf(stops: readonly TourStop[], hearing: Hearing, from: number): readonly TourState[] {
  const rests = new Map(stops.map(({ id, restored }) => [id, restored.expect]));
  const heard = hearing.changes.filter(({ seq }) => seq >= from);
  const pulses = pulsesOf(heard, (id) => rests.get(id) ?? null);
  const taken: (Pulse | null)[] = stops.map(() => null);
  const instead: (string | null)[] = stops.map(() => null);
  const strays: ({ readonly pulse: Pulse; readonly asked: number } | null)[] = stops.map(() => null);
  let turn = 0;
  let passed: number | null = null;
  let last: { readonly pulse: Pulse; readonly at: number | null } | null = null;
  for (const pulse of pulses) {
    if (last && last.pulse.id === pulse.id && isRepeated(last.pulse, pulse, stops[turn]?.id === pulse.id)) {
      last = { pulse, at: last.at };
      continue;
    }
    while (turn < stops.length && taken[turn]) turn++;
    if (stops[turn]?.id === pulse.id) {
      taken[turn] = pulse;
      last = { pulse, at: turn };
      turn++;
      passed = null;
    } else if (passed !== null && stops[passed]?.id === pulse.id && !taken[passed]) {
      taken[passed] = pulse;
      last = { pulse, at: passed };
      turn = passed + 1;
      passed = null;
    } else {
      const at = stops.findIndex(({ id }, index) => id === pulse.id && !taken[index] && !strays[index]);
      if (turn < stops.length) instead[turn] = pulse.id;
      if (at >= 0) {
        strays[at] = { pulse, asked: Math.min(turn, stops.length) };
        passed = at + 1;
      }
      last = { pulse, at: null };
      turn = Math.min(turn + 1, stops.length);
    }
  }
  return stops.map((_, index) => stateOf(index));

  function stateOf(index: number): TourState {
    const pulse = taken[index];
    if (pulse) return judged(pulse, pulses);
    const stray = strays[index];
    if (stray) {
      const other = strays[stray.asked];
      if (stray.asked !== index && other?.asked === index)
        return { is: 'exchanged', pulse: stray.pulse, with: stray.asked };
      return { is: 'out-of-turn', ...stray };
    }
    const elsewhere = instead[index];
    return elsewhere ? { is: 'elsewhere', heard: elsewhere } : { is: 'waiting' };
  }
}

/** A movement detector is walked before for a while, a door swings: the same input again is the same stop. */
const AGAIN_MILLISECONDS = 4000;

function isRepeated(before: Pulse, pulse: Pulse, isNextTheSame: boolean): boolean {
  return !isNextTheSame || pulse.workedAt - (before.restoredAt ?? pulse.workedAt) < AGAIN_MILLISECONDS;
}

function judged(pulse: Pulse, all: readonly Pulse[]): TourState {
  if (pulse.times >= CHATTER_TIMES) return { is: 'chatters', pulse };
  const others = all.filter(
    (one) => one.id !== pulse.id && Math.abs(one.workedAt - pulse.workedAt) <= TOGETHER_MILLISECONDS,
  );
  if (others.length > 0) return { is: 'together', pulse, others: [...new Set(others.map(({ id }) => id))] };
  return pulse.restoredAt === null ? { is: 'worked', pulse } : { is: 'heard', pulse };
}

/** The answers that a tick stands for, and what was heard for each: what confirms its step. */
export function answersOf(
  { worked, restored }: TourStop,
  pulse: Pulse,
  others: readonly string[],
  hearing: Hearing,
): { readonly values: Record<string, string>; readonly heard: Record<string, HeardAnswer> } {
  const deafSeconds = deafSecondsIn(hearing, pulse.workedAt, pulse.restoredAt ?? hearing.nowMilliseconds);
  const at = (milliseconds: number | null): string | null =>
    milliseconds === null ? null : new Date(milliseconds).toISOString();
  const common = { others, changes: 2 * pulse.times, deafSeconds };
  return {
    values: { [worked.field]: worked.expect, [restored.field]: restored.expect },
    heard: {
      [worked.field]: { state: worked.expect, at: at(pulse.workedAt), ...common },
      [restored.field]: { state: restored.expect, at: at(pulse.restoredAt), ...common },
    },
  };
}
