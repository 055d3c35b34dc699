import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import { contactSense } from '../../site/worth.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import type { Placed } from '../grouping/place.ts';
import type { Unit } from '../grouping/units.ts';
import { type Ends, endsOfContacts, endsOfLoop } from '../loops/ends.ts';
import type { Field } from '../loops/field.ts';
import type { Destinations } from './destination.ts';

/** How the units of a circuit are joined on their new input. */
export type CircuitJoin = 'series' | 'parallel';

export type CircuitEnds = {
  readonly placed: Placed;
  readonly join: CircuitJoin;
  /** In the order of the chain from input to common. */
  readonly units: readonly { readonly unit: Unit; readonly ends: Ends }[];
  /** Joins of the old panel that stay as they are, and new joints, between one unit and the next. */
  readonly joints: readonly { readonly node: string; readonly stays: boolean }[];
};

/** The ends a unit brings to its input: of its detectors' contacts, or of the loop of its tamper circuit. */
export function endsOfUnit(field: Field, survey: Survey, unit: Unit): Ends {
  if (unit.purpose === 'detection') return endsOfContacts(field, survey, unit.zone, unit.detectors);
  return endsOfLoop(field, survey.tampers.find(({ id }) => id === unit.zone)!);
}

/**
 * How units like this one are joined on an input: those that close on alarm side by side, all others in a
 * row.
 */
function joinOf(survey: Survey, unit: Unit): CircuitJoin {
  if (unit.purpose === 'tamper') return 'series';
  const zone = survey.zones.find(({ id }) => id === unit.zone)!;
  const detector = survey.detectors.find(({ id }) => id === unit.detectors[0])!;
  return contactSense(detector, zone) === 'normally-open' ? 'parallel' : 'series';
}

/** Sends the ends of one circuit's units to its input, its common and the joints between them. */
export function connectCircuit(
  field: Field,
  survey: Survey,
  placed: Placed,
  endsOf: (unit: Unit) => Ends,
  to: Destinations,
): CircuitEnds {
  const { board, input, group } = placed;
  const join = joinOf(survey, group.units[0]!);
  const units = group.units.map((unit) => ({ unit, ends: endsOf(unit) }));
  const terminal = { board: board.id, terminal: input.terminal };
  const common = { board: board.id, terminal: input.common };
  const joints: { node: string; stays: boolean }[] = [];
  if (join === 'parallel') {
    for (const { ends } of units) {
      to.send(ends.in, terminal);
      to.send(ends.out, common);
    }
    return { placed, join, units, joints };
  }
  to.send(units[0]!.ends.in, terminal);
  for (const [index, { ends }] of units.entries()) {
    const next = units[index + 1];
    if (!next) {
      to.send(ends.out, common);
      break;
    }
    const meeting = [...ends.out, ...next.ends.in];
    const stays = joinThatStays(field, meeting);
    const node = stays ?? jointName(board, input.id, index);
    to.send(meeting, stays ? { stays } : { joint: node });
    joints.push({ node, stays: stays !== null });
  }
  return { placed, join, units, joints };
}

function jointName(board: Board, input: string, index: number): string {
  return `joint:${board.id}/${input}.${index + 1}`;
}

/** A join at the panel that already joins exactly these stays as it is. */
function joinThatStays(field: Field, meeting: readonly WiredConductor[]): string | null {
  const node = meeting[0]?.near;
  if (node === undefined || !node.startsWith('join:')) return null;
  const there = field.conductorsAt.get(node) ?? [];
  const same = there.length === meeting.length && meeting.every((conductor) => conductor.near === node);
  return same && (field.resistorsAt.get(node) ?? []).length === 0 ? node : null;
}
