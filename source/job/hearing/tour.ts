import type { ObservationProof, Proof, Step } from '../../procedure/step.ts';
import { deafSecondsIn, type HeardAnswer, type Hearing, inputIdOf } from './hearing.ts';
import { TOGETHER_MILLISECONDS } from './propose-heard.ts';
import { CHATTER_TIMES, type Pulse, pulsesOf } from './pulses.ts';
import { type Fit, fitWalk } from './walk-order.ts';

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
 * landings apart: an input is ticked when its turn has come. What was heard at another's turn, or right after one that
 * stayed silent, is never ticked by itself.
 *
 * @param from the first change that counts
 */
export function tourOf(stops: readonly TourStop[], hearing: Hearing, from: number): readonly TourState[] {
  const rests = new Map(stops.map(({ id, restored }) => [id, restored.expect]));
  const heard = hearing.changes.filter(({ seq }) => seq >= from);
  const pulses = pulsesOf(heard, (id) => rests.get(id) ?? null);
  const walked = pulses.filter((pulse, at) => !isRepeated(pulses[at - 1], pulse));
  const { fits, strays } = fitWalk(
    stops.map(({ id }) => id),
    walked.map(({ id }) => id),
    (at) => isDeafBetween(hearing, walked[at - 1]?.workedAt ?? 0, walked[at]?.workedAt ?? 0),
  );
  return stops.map((_, index) => stateOf(index));

  // Another input was heard just before, and nothing says yet that the two are exchanged: this may be one more of that kind.
  function unansweredBefore(index: number): number | null {
    const before = fits[index - 1];
    if (before?.is !== 'another') return null;
    const own = fits.find((one) => one.is === 'another' && walked[one.at]?.id === stops[index - 1]?.id);
    return own ? null : index - 1;
  }

  function stateOf(index: number): TourState {
    const fit = fits[index];
    const pulse = fit?.is === 'itself' ? walked[fit.at] : undefined;
    if (pulse) {
      const asked = firstSilentBefore(fits, index) ?? unansweredBefore(index);
      // Whoever was asked before it and stayed silent may have been heard here.
      const own = judged(pulse, pulses);
      return asked === null || own.is !== 'heard' ? own : { is: 'out-of-turn', pulse, asked };
    }
    const id = stops[index]?.id;
    const here = fit?.is === 'another' ? walked[fit.at] : undefined;
    const elsewhere = fits.findIndex((one) => one.is === 'another' && walked[one.at]?.id === id);
    const own = fits[elsewhere];
    if (here && own?.is === 'another' && stops[elsewhere]?.id === here.id)
      return { is: 'exchanged', pulse: walked[own.at]!, with: elsewhere };
    // That it was heard at all says more than what was heard at its turn, which stands at that one's own.
    if (own?.is === 'another') return { is: 'out-of-turn', pulse: walked[own.at]!, asked: elsewhere };
    const stray = strays.find(({ at }) => walked[at]?.id === id);
    if (stray) return { is: 'out-of-turn', pulse: walked[stray.at]!, asked: stray.asked };
    return here ? { is: 'elsewhere', heard: here.id } : { is: 'waiting' };
  }
}

function isDeafBetween({ deaf }: Hearing, from: number, to: number): boolean {
  return deaf.some((gap) => gap.fromMilliseconds < to && (gap.toMilliseconds ?? to) > from);
}

/** The first of the stops right before this one at whose turn nothing was heard; null where there is none. */
function firstSilentBefore(fits: readonly Fit[], index: number): number | null {
  let at = index;
  while (at > 0 && fits[at - 1]?.is === 'nothing') at--;
  return at === index ? null : at;
}

/** A movement detector is walked before for a while, a door swings: the same input again is the same stop. */
const AGAIN_MILLISECONDS = 4000;

function isRepeated(before: Pulse | undefined, pulse: Pulse): boolean {
  if (before?.id !== pulse.id) return false;
  return pulse.workedAt - (before.restoredAt ?? pulse.workedAt) < AGAIN_MILLISECONDS;
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
