import type { MeasuringPoint, Suspect } from '../plan.ts';

type Point = Omit<MeasuringPoint, 'suspects'>;

/** What else could stand between the leads: the pairs of the other zones. */
export function suspectsOf(point: Point, all: readonly Point[]): Suspect[] {
  return all
    .filter((other) => other.phase === point.phase && other.zone !== point.zone && other.id.endsWith('.rest'))
    .map((other) => ({
      cause: 'other-pair',
      says: `this is the pair of ${other.zone}: labels are swapped`,
      try: `Measure ${other.between.join(' to ')} and compare.`,
      expression: other.expression,
      states: other.with,
    }));
}
