import type { Survey } from '../../site/survey.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import type { Placed } from '../grouping/place.ts';
import type { Unit } from '../grouping/units.ts';
import type { LifeSafety } from '../life-safety.ts';
import type { Ends } from '../loops/ends.ts';
import type { Field } from '../loops/field.ts';
import { type BoardFeed, fedElsewhere, rootCable } from '../supply/feeds.ts';
import { type CircuitEnds, connectCircuit } from './circuit-ends.ts';
import { Destinations } from './destination.ts';
import { connectSounder } from './sounder-ends.ts';

/** Every conductor of the survey with the one place it goes to. */
export type Wired = { readonly destinations: Destinations; readonly circuits: readonly CircuitEnds[] };

/** Where every conductor goes. Whatever nothing else claims is parked and insulated. */
export function connectAll(
  survey: Survey,
  field: Field,
  placed: readonly Placed[],
  feeds: readonly BoardFeed[],
  lifeSafety: LifeSafety,
  endsOf: (unit: Unit) => Ends,
): Wired {
  const to = new Destinations();
  const { conductors } = field.wiring;
  for (const conductor of conductors)
    if (lifeSafety.conductors.has(conductor.id) || !conductor.atPanel)
      to.send([conductor], { stays: conductor.near });
  const circuits = placed.map((place) => connectCircuit(field, survey, place, endsOf, to));
  keepTamperJoins(conductors, placed, to);
  for (const feed of feeds) {
    connectAux(survey, field, feed, to);
    connectLead(conductors, feed, to);
    for (const sounder of feed.sounders) connectSounder(survey, sounder, feed.board, conductors, to);
  }
  followDoubled(field, to);
  to.send(conductors, { parked: true });
  return { destinations: to, circuits };
}

/** A doubled core goes where the one goes that it lies beside. */
function followDoubled(field: Field, to: Destinations): void {
  for (const conductor of field.wiring.conductors) {
    if (conductor.use !== 'doubled') continue;
    const beside = (field.conductorsAt.get(conductor.far) ?? []).find(
      ({ use, near, far }) => use !== 'doubled' && near === conductor.near && far === conductor.far,
    );
    const destination = beside && to.of(beside.id);
    if (destination) to.send([conductor], destination);
  }
}

/** What lies between the ends of a tamper loop that is kept stays joined at the panel as it is. */
function keepTamperJoins(
  conductors: readonly WiredConductor[],
  placed: readonly Placed[],
  to: Destinations,
): void {
  const kept = new Set(
    placed.flatMap(({ group }) =>
      group.units.filter(({ purpose }) => purpose === 'tamper').map(({ zone }) => zone),
    ),
  );
  for (const conductor of conductors)
    if (conductor.zone !== null && kept.has(conductor.zone) && conductor.near.startsWith('join:'))
      to.send([conductor], { stays: conductor.near });
}

/** The supply pairs of the cables through which a board feeds its detectors. */
function connectAux(survey: Survey, field: Field, { board, detectors }: BoardFeed, to: Destinations): void {
  const roots = new Set(detectors.map(({ cable }) => rootCable(survey, cable)));
  const mine = new Set(detectors.map(({ id }) => id));
  const elsewhere = fedElsewhere(survey);
  for (const conductor of field.wiring.conductors) {
    const serves = conductor.for === null || mine.has(conductor.for);
    if (!roots.has(conductor.cable) || !conductor.atPanel || !serves || elsewhere.has(conductor.for ?? ''))
      continue;
    if (conductor.use === 'aux-positive')
      to.send([conductor], { board: board.id, terminal: board.aux.positive });
    if (conductor.use === 'aux-negative')
      to.send([conductor], { board: board.id, terminal: board.aux.negative });
  }
}

/** An old run that feeds the board again: joined to the adapter's lead at the panel. */
function connectLead(conductors: readonly WiredConductor[], { board }: BoardFeed, to: Destinations): void {
  if (board.adapter.lead === null) return;
  const lead = conductors.filter(({ cable, atPanel }) => cable === board.adapter.lead && atPanel);
  for (const [index, conductor] of lead.slice(0, 2).entries())
    to.send([conductor], { joint: `adapter:${board.id}/${index + 1}` });
}
