import type { Building, Sounder } from './building.ts';
import { circuitOf } from './circuit.ts';

/** What a trigger takes for its negative or its positive: from memory. */
const NEGATIVE_BELOW_OHMS = 1000;
const POSITIVE_ABOVE_VOLTS = 5;

/** Ids of the sounders that sound as the building stands now. */
export function sounding(building: Building): string[] {
  return building.sounders.filter((one) => sounds(building, one)).map(({ id }) => id);
}

/** One that listens to a trigger sounds when that says so, and by its own battery when its line is taken away. */
function sounds(building: Building, sounder: Sounder): boolean {
  const { positive, negative, trigger, sense, battery, minimumVolts } = sounder;
  const { solved } = circuitOf(building, 'dc');
  const isFed = solved.volts(positive, negative) >= minimumVolts;
  if (sense === 'supply' || trigger === null) return isFed;
  if (!isFed) return battery === 'on';
  const isNegative =
    solved.ohms(trigger, negative) < NEGATIVE_BELOW_OHMS && solved.volts(trigger, negative) < 1;
  const isPositive = solved.volts(trigger, negative) > POSITIVE_ABOVE_VOLTS;
  switch (sense) {
    case 'negative-applied':
      return isNegative;
    case 'negative-removed':
      return !isNegative;
    case 'positive-applied':
      return isPositive;
    case 'positive-removed':
      return !isPositive;
  }
}
