import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import type { FitResistor } from '../../wiring/act.ts';
import { Bench } from '../../wiring/bench.ts';
import type { NodeId, Wiring } from '../../wiring/wiring.ts';
import type { SettledCircuit } from '../circuits/settle.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import { type Destinations, nodeOf } from '../connections/destination.ts';
import type { LifeSafety } from '../life-safety.ts';
import type { Field } from '../loops/field.ts';
import type { Work, ZonePlan } from '../plan.ts';
import { clearActs } from './clear-acts.ts';
import { linksOfCommons } from './links.ts';
import { doAll, liftActs, partActs, resistorActs } from './zone-acts.ts';

type Given = {
  readonly survey: Survey;
  readonly boards: readonly Board[];
  readonly field: Field;
  readonly zones: readonly ZonePlan[];
  readonly circuits: readonly SettledCircuit[];
  readonly ends: readonly CircuitEnds[];
  readonly destinations: Destinations;
  readonly lifeSafety: LifeSafety;
};

/** The wiring at the moments at which loops are read. */
export type Moments = {
  readonly found: Wiring;
  readonly lifted: Wiring;
  readonly bare: Wiring;
  readonly split: Wiring;
  readonly landed: Wiring;
};

/**
 * Everything that is done to the wiring, act by act, done on a bench as it is worked out: so what cannot be done in
 * this order is noticed here, and the wiring at each moment is what the acts before it led to.
 *
 * @throws Error where an act cannot be done
 */
export function planWork(given: Given): { readonly work: Work; readonly moments: Moments } {
  const { survey, boards, field, zones, circuits, ends, destinations, lifeSafety } = given;
  const found = field.wiring;
  const bench = new Bench(found);
  // A tamper loop that is given up has no card of its own: it comes off with what is left on the panel.
  const givenUp = new Set(survey.tampers.flatMap(({ id, keep }) => (keep === 'yes' ? [] : [id])));
  const worked = zones.filter(({ id }) => !givenUp.has(id));
  const each = <T>(make: (zone: ZonePlan) => T) => new Map(worked.map((zone) => [zone.id, make(zone)]));
  const isHeld = (id: string) => lifeSafety.conductors.has(id);
  const lift = each((zone) => liftActs(bench, zone, isHeld));
  const lifted = bench.wiring();
  const resistors = each((zone) => resistorActs(bench, survey, found, zone, circuits));
  const bare = bench.wiring();
  const isSplit = new Set(circuits.flatMap((one) => (one.split ? Object.keys(one.resistors) : [])));
  const part = each((zone) => {
    const own = field.conductorsOf(zone.id).map(({ id }) => id);
    return partActs(bench, zone, own, isSplit.has(zone.id));
  });
  const split = bench.wiring();

  const { clear, leftOnPanel } = clearActs(bench, split, destinations, lifeSafety);
  doAll(
    bench,
    boards.map((board) => ({ do: 'mount', board: board.id })),
  );
  const links = linksOfCommons(boards, ends, destinations);
  doAll(bench, links);
  const inputs = new Map<string, FitResistor[]>();
  for (const circuit of circuits) {
    const fits = atInput(circuit);
    doAll(bench, fits);
    if (fits.length > 0) inputs.set(`${circuit.board}/${circuit.input}`, fits);
  }
  const landings = new Map<string, NodeId>();
  const legs = legsOf([...inputs.values()].flat());
  for (const { id, atPanel } of found.conductors) {
    const to = destinations.of(id);
    if (!atPanel || isHeld(id) || to === undefined || 'parked' in to || 'stays' in to) continue;
    const node = nodeOf(id, to);
    const at = legs.get(node) ?? node;
    doAll(bench, [{ do: 'land', conductor: id, at }]);
    landings.set(id, at);
  }
  return {
    work: {
      zones: Object.fromEntries(
        worked.map(({ id }) => [
          id,
          { lift: lift.get(id)!, resistors: resistors.get(id)!, part: part.get(id)! },
        ]),
      ),
      clear,
      leftOnPanel,
      links,
      inputs: Object.fromEntries(inputs),
      landings: Object.fromEntries(landings),
    },
    moments: { found, lifted, bare, split, landed: bench.wiring() },
  };
}

/** A new or moved resistor in series with what lands on an input's terminal, or across the input. */
function atInput(circuit: SettledCircuit): FitResistor[] {
  const { fromZone: zone, board, input, terminal, common, contact, resistor } = circuit;
  const { work, at } = resistor;
  // One whose place nobody knows is looked for at the panel, and goes along from there.
  const goesAlong = work === 'keep' && (at === 'panel' || at === 'unknown');
  const ohms = goesAlong ? resistor.ohms : resistor.newOhms;
  // Where the old one sat out at a detector the new one goes in its place there.
  if (ohms === null || (at !== null && typeof at === 'object')) return [];
  const own = `${board}:${terminal}`;
  const isAcross = contact === 'normally-open';
  return [
    {
      do: 'fit-resistor',
      zone,
      ohms,
      between: isAcross ? [own, `${board}:${common}`] : [own, `${own}:resistor`],
      circuit: { board, input },
      ...(isAcross ? ({ across: true } as const) : {}),
    },
  ];
}

/** Terminals whose wires go on the free leg of a resistor there. */
function legsOf(fits: readonly FitResistor[]): Map<NodeId, NodeId> {
  return new Map(fits.filter(({ across }) => !across).map(({ between }) => between));
}
