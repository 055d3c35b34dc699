import type { JobState } from './state.ts';
import type { Step, SupplyNeed, SupplyState } from './step.ts';
import { isStopStep } from './stops.ts';

/** The supply's state as it is said to people, everywhere. */
export const SUPPLY_WORDS: Readonly<Record<SupplyState, string>> = {
  live: 'LIVE - nothing is proved dead',
  isolating: 'ISOLATING - not proved dead yet',
  dead: 'DEAD - proved in this sitting',
  unproven: 'NOT PROVED - was dead, must be proved again',
  energised: 'ENERGISED - the new board is powered',
};

/** When a repeatable step is asked for: by the supply's state alone. */
export function isOffered(step: Step, state: JobState): boolean {
  if (isStopStep(step)) return step.id in state.context.stops;
  switch (step.effect) {
    case 'isolate':
      return state.supply !== 'dead';
    case 'prove':
      return state.supply === 'isolating' || state.supply === 'unproven';
    case 'prove-short':
      return state.supply === 'unproven' && state.context.owed === 'short';
    case 'energise':
      return state.supply === 'dead';
    case null:
      return true;
  }
}

/** What is so, and what brings the supply where a step needs it. */
export function supplySays(needs: SupplyNeed, state: JobState): string {
  return `${IS[state.supply]} ${toReach(needs, state)}`;
}

const IS: Readonly<Record<SupplyState, string>> = {
  live: 'The old system is live.',
  isolating: 'The sources are being isolated, and dead is not proved yet.',
  dead: 'The installation is proved dead.',
  unproven: 'Dead was proved before the break, and must be proved again.',
  energised: 'The new board is energised.',
};

function toReach(needs: SupplyNeed, state: JobState): string {
  if (needs === 'energised') return 'This needs power on the new board: power up first.';
  if (needs === 'isolating') {
    return state.supply === 'live'
      ? 'First isolate (supply.isolate).'
      : 'This belongs to isolating the sources.';
  }
  switch (state.supply) {
    case 'live':
    case 'energised':
      return 'First isolate every source (supply.isolate), then prove dead (supply.prove).';
    case 'isolating':
      return 'Isolate what is left, then prove dead (supply.prove).';
    case 'unproven':
      return state.context.owed === 'short'
        ? 'The short proof opens it (supply.prove-short).'
        : 'The full proof opens it (supply.prove).';
    case 'dead':
      return '';
  }
}
