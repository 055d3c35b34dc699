import type { Expression } from '../../electrical/loop.ts';
import type { Board } from '../../site/board.ts';
import type { TamperLoop, Zone } from '../../site/survey.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import type { CircuitContext } from '../circuits/circuit-loop.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import type { Unit } from '../grouping/units.ts';
import { type LoopQuestion, type ResistorsStand, readLoop } from '../loops/network.ts';
import { type InputState, usableOn } from '../loops/windows.ts';
import type { Circuit, ZonePlan } from '../plan.ts';
import { type BarePoint, type Reading, statesOf } from './reading-states.ts';

/**
 * Where the meter is held, in the order of the work: each zone as found, with its leg lifted, with its
 * resistor out; each pair by itself once the zone is split; each circuit on its new screws.
 */
export function computePoints(
  context: CircuitContext,
  zones: readonly ZonePlan[],
  circuits: readonly Circuit[],
  ends: readonly CircuitEnds[],
): BarePoint[] {
  const boardById = new Map(ends.map(({ placed }) => [placed.board.id, placed.board]));
  const ofZone = new Map<string, { circuit: Circuit; ends: CircuitEnds }[]>();
  for (const [index, circuit] of circuits.entries()) {
    for (const zone of Object.keys(circuit.resistors))
      ofZone.set(zone, [...(ofZone.get(zone) ?? []), { circuit, ends: ends[index]! }]);
  }
  return zones.flatMap((zone) => {
    const mine = ofZone.get(zone.id) ?? [];
    const [only] = mine;
    const isWhole =
      mine.length === 1 && !only!.circuit.split && Object.keys(only!.circuit.resistors).length === 1;
    const whole = isWhole ? only!.circuit : null;
    return [
      ...zoneReadings(context, zone, whole, boardById),
      ...mine.flatMap((one) =>
        one.circuit.split ? splitReadings(context, one.ends, one.circuit, zone) : [],
      ),
      ...mine
        .filter(({ circuit }) => circuit.fromZone === zone.id)
        .map(({ circuit }) => landedReading(circuit, boardById)),
    ].flatMap((reading) => statesOf(reading));
  });
}

function zoneReadings(
  context: CircuitContext,
  zone: ZonePlan,
  whole: Circuit | null,
  boardById: ReadonlyMap<string, Board>,
): Reading[] {
  const { survey, field } = context;
  const loop = [...survey.zones, ...survey.tampers].find(({ id }) => id === zone.id)!;
  const [first, second] = field.wiring.loops[zone.id] ?? [
    `old:${loop.terminals[0]}`,
    `old:${loop.terminals[1]}`,
  ];
  const found: Reading = {
    name: `found.${zone.id}`,
    phase: 'found',
    zone: zone.id,
    between: [first, second],
    expression: read(context, loop, 'as-found', ({ near }) => near, [first, second]),
    usable: null,
    circuit: null,
  };
  const lifted = zone.lift.conductors[0];
  if (lifted === undefined) return [found];
  const free = liftedEnds(context, zone);
  const nearOf = ({ id, near }: WiredConductor) => free.get(id) ?? near;
  const other = `old:${loop.terminals.find((terminal) => terminal !== zone.lift.terminal) ?? loop.terminals[1]}`;
  const readings: Reading[] = [
    found,
    {
      ...found,
      name: `lifted.${zone.id}`,
      phase: 'lifted',
      between: [lifted, other],
      expression: read(context, loop, 'as-found', nearOf, [lifted, other]),
    },
  ];
  if (zone.resistor.work === 'remove' || zone.resistor.work === 'replace')
    readings.push(bareReading(context, zone, loop, free, lifted, other, whole, boardById));
  return readings;
}

/** What was at one place stays together when it is lifted, under the name of the first; a resistor parts two places. */
function liftedEnds({ field }: CircuitContext, { id: zone, lift }: ZonePlan): Map<string, string> {
  const first = new Map<string, string>();
  const ends = new Map<string, string>();
  for (const { id, near } of field.conductorsOf(zone)) {
    if (!lift.conductors.includes(id)) continue;
    if (!first.has(near)) first.set(near, id);
    ends.set(id, first.get(near)!);
  }
  return ends;
}

/** With the resistor out the conductors it stood between are bare: the meter goes on them. */
function bareReading(
  context: CircuitContext,
  zone: ZonePlan,
  loop: Zone | TamperLoop,
  free: ReadonlyMap<string, string>,
  lifted: string,
  other: string,
  whole: Circuit | null,
  boardById: ReadonlyMap<string, Board>,
): Reading {
  const screw = other.slice('old:'.length);
  const opposite = context.field
    .conductorsOf(zone.id)
    .filter((conductor) => conductor.screw === screw && conductor.near !== other);
  // A conductor that came to its screw through the resistor hangs free once that is out.
  const end = opposite[0]?.id ?? other;
  const bareEnds = new Set(opposite.map(({ id }) => id));
  const nearOf = ({ id, near }: WiredConductor) => (bareEnds.has(id) ? end : (free.get(id) ?? near));
  const board = whole ? boardById.get(whole.board) : undefined;
  return {
    name: `bare.${zone.id}`,
    phase: 'resistor-out',
    zone: zone.id,
    between: [lifted, end],
    expression: read(context, loop, { ...zone.resistor, work: 'remove' }, nearOf, [lifted, end]),
    usable: board && zone.resistor.work === 'remove' ? (state) => usableOn(board, state) : null,
    circuit: whole ? { board: whole.board, input: whole.input } : null,
  };
}

/**
 * Each pair of a split zone by itself, between its own conductors. What was parted or lifted is insulated end by end,
 * so that a doubled core lies beside its mate no more.
 */
function splitReadings(
  context: CircuitContext,
  { placed }: CircuitEnds,
  circuit: Circuit,
  { id: zone, lift }: ZonePlan,
): Reading[] {
  const { survey } = context;
  const work = circuit.resistors[zone]!;
  const units = placed.group.units.filter((unit) => unit.zone === zone);
  return units.flatMap((unit) => {
    const loop = [...survey.zones, ...survey.tampers].find(({ id }) => id === unit.zone)!;
    const ends = unitEnds(context, unit);
    if (!ends) return [];
    const [from, to] = ends.map((conductors) => conductors[0]!.id) as [string, string];
    const [ins, outs] = ends.map((conductors) => new Set(conductors.map(({ id }) => id)));
    const isApart = ({ id, use, near }: WiredConductor) =>
      use === 'doubled' && (near.startsWith('join:') || lift.conductors.includes(id));
    const nearOf = (conductor: WiredConductor) => {
      const { id, near } = conductor;
      if (isApart(conductor)) return `apart:${id}`;
      return ins!.has(id) ? from : outs!.has(id) ? to : near;
    };
    const stand: ResistorsStand = work.work === 'fit' ? { ...work, work: 'remove' } : work;
    return [
      {
        name: `split.${unit.detectors[0] ?? unit.zone}`,
        phase: 'split' as const,
        zone: unit.zone,
        between: [from, to] as const,
        expression: read(context, loop, stand, nearOf, [from, to], unit),
        usable:
          placed.group.units.length === 1 && placed.board.supervision === null
            ? (state: InputState) => usableOn(placed.board, state)
            : null,
        circuit: { board: placed.board.id, input: placed.input.id },
      },
    ];
  });
}

function unitEnds(context: CircuitContext, unit: Unit): [WiredConductor[], WiredConductor[]] | null {
  const ends = context.endsOf(unit);
  return ends.in.length > 0 && ends.out.length > 0 ? [[...ends.in], [...ends.out]] : null;
}

function landedReading(circuit: Circuit, boardById: ReadonlyMap<string, Board>): Reading {
  const board = boardById.get(circuit.board)!;
  return {
    name: `landed.${circuit.board}/${circuit.input}`,
    phase: 'landed',
    zone: circuit.fromZone,
    between: [`${circuit.board}:${circuit.terminal}`, `${circuit.board}:${circuit.common}`],
    expression: circuit.expression,
    usable: (state) => usableOn(board, state),
    circuit: { board: circuit.board, input: circuit.input },
    besideOhms: board.sensing.pullUpOhms * (1 - board.sensing.pullUpTolerance),
  };
}

function read(
  { field, elements }: CircuitContext,
  loop: Zone | TamperLoop,
  resistors: ResistorsStand,
  nearOf: LoopQuestion['nearOf'],
  [from, to]: readonly [string, string],
  unit?: Unit,
): Expression {
  const detectors = unit && unit.purpose === 'detection' ? unit.detectors : null;
  return readLoop(
    field,
    elements,
    { zone: loop.id, loop: loop.loop, detectors, resistors, nearOf },
    from,
    to,
  );
}
