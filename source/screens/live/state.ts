import type { Hearing } from '../../job/hearing/hearing.ts';
import { type HeardProposal, proposeHeard, type Since } from '../../job/hearing/propose-heard.ts';
import { answersOf, type TourState, type TourStop, tourOf, tourStops } from '../../job/hearing/tour.ts';
import type { Heard } from '../../live/ear.ts';
import type { Candidate } from '../../live/learn.ts';
import type { Setup } from '../../live/setup.ts';
import type { Proof } from '../../procedure/step.ts';
import type { App, OpenJob } from '../app/state.ts';

/** What was heard, at the moment it was handed in. */
export type HeardNow = Heard & Pick<Hearing, 'nowMilliseconds'>;

/** How the boards of the open job are heard. */
export type LiveState = {
  readonly setup: Setup;
  readonly listening: boolean;
  readonly heard: HeardNow | null;
  /** Why it is not listening although it was told to. */
  readonly says: string | null;
  /** What followed the input that is being learned, once that was asked. */
  readonly candidates: readonly Candidate[] | null;
  /** Messages seen while learning. */
  readonly tapped: number;
};

/** A tour under way: its stops in the order in which they are walked, and the first change that counts. */
export type Tour = { readonly stops: readonly TourStop[]; readonly from: number };

/** From now on: what a card or a tour that is opened now counts. */
export function sinceNow({ live }: Pick<App, 'live'>): Since {
  return { seq: live?.heard?.seq ?? 0, atMilliseconds: live?.heard?.nowMilliseconds ?? 0 };
}

/** What was heard that answers the observations of a card; empty while nobody listens. */
export function proposalsFor(
  { live }: Pick<App, 'live'>,
  proofs: readonly Proof[],
  since: Since | undefined,
): ReadonlyMap<string, HeardProposal> {
  if (!live?.heard) return new Map();
  return proposeHeard(proofs, live.heard, since ?? { seq: 0, atMilliseconds: 0 });
}

/** A tour of every detector that is open to be worked now. */
export function newTour(job: OpenJob, from: number): Tour {
  return { stops: tourStops(job.next.open), from };
}

/** What was heard of each stop. */
export function statesOf({ live, tour }: Pick<App, 'live' | 'tour'>): readonly TourState[] {
  if (!tour) return [];
  if (!live?.heard) return tour.stops.map(() => ({ is: 'waiting' }));
  return tourOf(tour.stops, live.heard, tour.from);
}

/** How many stops are ticked. */
export function ticksIn(app: Pick<App, 'live' | 'tour'>): number {
  return statesOf(app).filter(({ is }) => is === 'heard').length;
}

/** The action that records a stop as it was heard; null where its input was not worked and restored. */
export function confirmStop({ live }: Pick<App, 'live'>, stop: TourStop, state: TourState) {
  if (!live?.heard || !('pulse' in state) || state.pulse.restoredAt === null) return null;
  const others = state.is === 'together' ? state.others : [];
  return { do: 'confirm', step: stop.step, ...answersOf(stop, state.pulse, others, live.heard) } as const;
}
