import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import { Bench } from '../../wiring/bench.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import { type Destinations, nodeOf } from '../connections/destination.ts';
import { linksOfCommons } from '../work/links.ts';
import { wayOutOf } from '../work/way-out.ts';
import { zonesOf } from './circuit-resistors.ts';

/**
 * The wiring as if every conductor were where it goes, to weigh what becomes of the resistors: with all of them out,
 * or with those out at the detectors left where they are.
 */
export function landedAtOnce(
  survey: Survey,
  boards: readonly Board[],
  found: Wiring,
  circuits: readonly CircuitEnds[],
  destinations: Destinations,
  atDetectors: 'out' | 'left',
): Wiring {
  const bench = new Bench(found);
  const moved = new Set(circuits.flatMap(({ placed }) => zonesOf(placed.group.units)));
  for (const { id, zone } of found.resistors) {
    if (!moved.has(zone)) continue;
    const way = wayOutOf(survey, found, zone, id);
    if (way !== 'panel' && atDetectors === 'left') continue;
    const { a, b } = bench.resistor(id)!;
    if (way === 'jumper' || way === 'jumper-across') {
      const leaves = way === 'jumper' ? 'through' : 'open';
      bench.do({ do: 'set-jumper', resistor: id, zone, ohms: null, leaves });
    } else bench.do({ do: 'remove-resistor', resistor: id, zone });
    if (way === 'in-row') bench.do({ do: 'splice', into: a, from: b });
  }
  for (const { id, atPanel } of found.conductors) {
    const to = destinations.of(id);
    if (atPanel && to !== undefined) bench.place(id, nodeOf(id, to));
  }
  for (const board of boards) bench.do({ do: 'mount', board: board.id });
  for (const link of linksOfCommons(boards, circuits, destinations)) bench.do(link);
  return bench.wiring();
}
