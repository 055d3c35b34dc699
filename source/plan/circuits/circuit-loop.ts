import type { Expression } from '../../electrical/loop.ts';
import type { Board } from '../../site/board.ts';
import type { Loop, Survey } from '../../site/survey.ts';
import { resistorOf } from '../../wiring/elements.ts';
import { type Edge, reduceBetween } from '../../wiring/reduce.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import { type Destinations, nodeOf } from '../connections/destination.ts';
import type { Unit } from '../grouping/units.ts';
import type { Elements } from '../loops/elements.ts';
import type { Ends } from '../loops/ends.ts';
import type { Field } from '../loops/field.ts';
import { edgesOf, isAtPanel } from '../loops/network.ts';
import type { ResistorWork } from '../plan.ts';

/** What circuits and readings are computed from: the wiring, and where each conductor goes. */
export type CircuitContext = {
  readonly survey: Survey;
  readonly field: Field;
  readonly elements: Elements;
  readonly destinations: Destinations;
  readonly endsOf: (unit: Unit) => Ends;
};

/** The loop of a zone or tamper loop. */
export function loopOf(survey: Survey, zone: string): Loop {
  return [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)!.loop;
}

/** The zones and tamper loops of some units, in their order. */
export function zonesOf(units: readonly Unit[]): string[] {
  return [...new Set(units.map(({ zone }) => zone))];
}

/** The circuit between its two screws with its resistors as given. */
export function expressionOn(
  context: CircuitContext,
  ends: CircuitEnds,
  standOf: (zone: string) => ResistorWork,
): Expression {
  const { survey, field, elements, destinations } = context;
  const { board, input, group } = ends.placed;
  const terminal = `${board.id}:${input.terminal}`;
  const common = `${board.id}:${input.common}`;
  const edges: Edge[] = zonesOf(group.units).flatMap((zone) => {
    const units = group.units.filter((unit) => unit.zone === zone);
    return edgesOf(field, elements, {
      zone,
      loop: loopOf(survey, zone),
      detectors: units.some(({ purpose }) => purpose === 'tamper')
        ? null
        : units.flatMap((unit) => unit.detectors),
      resistors: standOf(zone),
      nearOf: ({ id, near }) => {
        const to = destinations.of(id);
        const node = to ? nodeOf(id, to) : near;
        // A return that several circuits share lies on one common, and that is linked to the others.
        return to && 'terminal' in to && to.board === board.id && isCommonOf(board, to.terminal)
          ? common
          : node;
      },
    });
  });
  const fieldSide = reduceBetween(edges, terminal, common);
  return withPanelResistor(context, ends, fieldSide, standOf(group.units[0]!.zone));
}

function isCommonOf(board: Board, terminal: string): boolean {
  return board.inputs.some(({ common }) => common === terminal);
}

/** A resistor at the panel, kept or new, stands between the field and the screws. */
function withPanelResistor(
  { survey, field }: CircuitContext,
  { placed, join }: CircuitEnds,
  fieldSide: Expression,
  stand: ResistorWork,
): Expression {
  const [unit] = placed.group.units;
  const keptHere = field
    .resistorsOf(unit!.zone)
    .filter((resistor) => resistor.role === 'end-of-line' && isAtPanel(resistor));
  const ohms =
    stand.work === 'fit' || (stand.work === 'replace' && keptHere.length > 0)
      ? stand.newOhms
      : stand.work === 'keep' && keptHere.length > 0
        ? loopOf(survey, unit!.zone).resistorOhms
        : null;
  return ohms === null ? fieldSide : { kind: join, of: [fieldSide, resistorOf(ohms)] };
}
