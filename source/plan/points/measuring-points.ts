import type { ContactStates } from '../../electrical/loop.ts';
import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import { readBetween } from '../../wiring/read-between.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import { riseOf } from '../circuits/return-rise.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import { contactsOfZones, type Field } from '../loops/field.ts';
import { type InputState, usableOn } from '../loops/windows.ts';
import type { Circuit, MeasuringPoint, Work, ZonePlan } from '../plan.ts';
import type { Moments } from '../work/site-work.ts';
import { type BarePoint, type Reading, statesOf } from './reading-states.ts';

/** What the points are read from: the wiring at each moment, and the acts that lead from one to the next. */
type Given = {
  readonly survey: Survey;
  readonly field: Field;
  readonly zones: readonly ZonePlan[];
  readonly circuits: readonly Circuit[];
  readonly ends: readonly CircuitEnds[];
  readonly work: Work;
  readonly moments: Moments;
};

type OnInput = { readonly circuit: Circuit; readonly ends: CircuitEnds };

/**
 * Where the meter is held, in the order of the work: each zone as found, with its leg lifted, with its
 * resistor out; each pair by itself once the zone is split; each circuit on its new screws.
 */
export function computePoints(given: Given): BarePoint[] {
  const { zones, circuits, ends } = given;
  const boardById = new Map(ends.map(({ placed }) => [placed.board.id, placed.board]));
  const ofZone = new Map<string, OnInput[]>();
  for (const [index, circuit] of circuits.entries()) {
    for (const zone of Object.keys(circuit.resistors))
      ofZone.set(zone, [...(ofZone.get(zone) ?? []), { circuit, ends: ends[index]! }]);
  }
  // A loop that is given up is not read: it has no work of its own.
  const worked = zones.filter(({ id }) => id in given.work.zones);
  return worked.flatMap((zone) => {
    const mine = ofZone.get(zone.id) ?? [];
    const [only] = mine;
    const isWhole =
      mine.length === 1 && !only!.circuit.split && Object.keys(only!.circuit.resistors).length === 1;
    const whole = isWhole ? only!.circuit : null;
    return [
      ...zoneReadings(given, zone, whole, boardById),
      ...mine.flatMap((one) => (one.circuit.split ? splitReadings(given, one, zone) : [])),
      ...mine
        .filter(({ circuit }) => circuit.fromZone === zone.id)
        .map(({ circuit }) => landedReading(given.field, circuit, boardById)),
    ].flatMap((reading) => statesOf(reading));
  });
}

function zoneReadings(
  given: Given,
  zone: ZonePlan,
  whole: Circuit | null,
  boardById: ReadonlyMap<string, Board>,
): Reading[] {
  const { survey, field, moments, work } = given;
  const loop = [...survey.zones, ...survey.tampers].find(({ id }) => id === zone.id)!;
  const [first, second] = field.wiring.loops[zone.id] ?? [
    `old:${loop.terminals[0]}`,
    `old:${loop.terminals[1]}`,
  ];
  const at = (
    phase: MeasuringPoint['phase'],
    name: string,
    wiring: Wiring,
    between: readonly [string, string],
  ): Reading => ({
    name: `${name}.${zone.id}`,
    phase,
    zone: zone.id,
    between,
    expression: readBetween(wiring, ...between),
    own: contactsOfZones(field, [zone.id]),
    usable: null,
    circuit: null,
  });
  const found = at('found', 'found', moments.found, [first, second]);
  const [lifted] = zone.lift.conductors;
  if (lifted === undefined) return [found];
  const other = `old:${loop.terminals.find((terminal) => terminal !== zone.lift.terminal) ?? loop.terminals[1]}`;
  const readings = [found, at('lifted', 'lifted', moments.lifted, [lifted, other])];
  const { work: fate } = zone.resistor;
  if (fate !== 'remove' && fate !== 'replace') return readings;
  const board = whole ? boardById.get(whole.board) : undefined;
  // Where a resistor still goes in at the input, the loop is not yet what the input will see.
  const isFinal = whole !== null && work.inputs[`${whole.board}/${whole.input}`] === undefined;
  return [
    ...readings,
    {
      ...at('resistor-out', 'bare', moments.bare, [lifted, farEnd(given, zone, other)]),
      usable:
        board && isFinal
          ? (state: InputState, states: ContactStates) => usableOn(board, state, riseOf(whole, states))
          : null,
      circuit: whole ? { board: whole.board, input: whole.input } : null,
    },
  ];
}

/** A conductor that came to its screw through the resistor hangs free once that is out: the meter goes on it. */
function farEnd({ field }: Given, { id }: ZonePlan, other: string): string {
  const screw = other.slice('old:'.length);
  const behind = field.conductorsOf(id).find((one) => one.screw === screw && one.near !== other);
  return behind?.id ?? other;
}

/** Each pair of a split zone by itself, between its own conductors. */
function splitReadings(
  { field, moments }: Given,
  { circuit, ends }: OnInput,
  { id: zone }: ZonePlan,
): Reading[] {
  const { board, input, group } = ends.placed;
  const alone = group.units.length === 1 && board.supervision === null;
  return ends.units.flatMap(({ unit, ends: own }) => {
    const [from, to] = [own.in[0]?.id, own.out[0]?.id];
    if (unit.zone !== zone || from === undefined || to === undefined) return [];
    return [
      {
        name: `split.${unit.detectors[0] ?? unit.zone}`,
        phase: 'split' as const,
        zone: unit.zone,
        between: [from, to] as const,
        expression: readBetween(moments.split, from, to),
        own: contactsOfZones(field, [zone]),
        usable: alone
          ? (state: InputState, states: ContactStates) => usableOn(board, state, riseOf(circuit, states))
          : null,
        circuit: { board: circuit.board, input: input.id },
      },
    ];
  });
}

function landedReading(field: Field, circuit: Circuit, boardById: ReadonlyMap<string, Board>): Reading {
  const board = boardById.get(circuit.board)!;
  return {
    name: `landed.${circuit.board}/${circuit.input}`,
    phase: 'landed',
    zone: circuit.fromZone,
    between: [`${circuit.board}:${circuit.terminal}`, `${circuit.board}:${circuit.common}`],
    expression: circuit.expression,
    own: contactsOfZones(field, Object.keys(circuit.resistors)),
    usable: (state, states) => usableOn(board, state, riseOf(circuit, states)),
    circuit: { board: circuit.board, input: circuit.input },
    besideOhms: board.sensing.pullUpOhms * (1 - board.sensing.pullUpTolerance),
  };
}
