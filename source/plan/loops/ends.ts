import type { Survey } from '../../site/survey.ts';
import type { NodeId, WiredConductor } from '../../wiring/wiring.ts';
import { remember } from '../remember.ts';
import { conductorsFrom, type Field } from './field.ts';

/** The two ends of a unit at the panel. Each is usually one conductor. */
export type Ends = {
  /** Goes to the input terminal. */
  readonly in: readonly WiredConductor[];
  /** Goes to the common. */
  readonly out: readonly WiredConductor[];
};

/**
 * Where the loop of some contacts comes out at the panel. Of the two ends, the one nearer to the zone's own
 * screw goes to the input, the one nearer to a common to the common.
 */
export function endsOfContacts(
  field: Field,
  survey: Survey,
  zone: string,
  detectors: readonly string[],
): Ends {
  const contacts = field.contactsOf(zone).filter(({ detector }) => detectors.includes(detector));
  const sides: WiredConductor[][] = [];
  for (const post of contacts.flatMap(({ a, b }) => [a, b])) {
    const side = sideOf(field, post);
    if (side.length > 0 && !sides.some((known) => known[0]!.id === side[0]!.id)) sides.push(side);
  }
  const rank = ranksOf(field)(zone);
  const nearness = (side: readonly WiredConductor[]) =>
    Math.min(...side.map(({ near }) => rank.get(near) ?? Infinity));
  sides.sort((a, b) => nearness(a) - nearness(b));
  const [first = [], last = []] = [sides[0], sides.length > 1 ? sides[sides.length - 1] : undefined];
  const commonFirst = isCommon(first) && !isCommon(last);
  return commonFirst || (screwsTurned(survey, zone) && !isCommon(last))
    ? { in: last, out: first }
    : { in: first, out: last };
}

/** Conductors at the panel that one terminal of a contact is wired with. */
function sideOf(field: Field, post: NodeId): WiredConductor[] {
  const found = conductorsFrom(field, post).filter(({ atPanel }) => atPanel);
  return found.sort((a, b) => (a.id < b.id ? -1 : 1));
}

function isCommon(side: readonly WiredConductor[]): boolean {
  return side.some(({ use }) => use === 'common');
}

/** True where the zone's first screw is the common one and the second its own. */
function screwsTurned(survey: Survey, zone: string): boolean {
  const terminals = [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)?.terminals;
  if (!terminals) return false;
  const [firstShared, secondShared] = terminals.map((terminal) => isSharedScrew(survey, terminal));
  return firstShared! && !secondShared!;
}

const sharedScrews = remember((survey: Survey) => {
  const loops = new Map<string, number>();
  for (const { terminals } of [...survey.zones, ...survey.tampers])
    for (const terminal of terminals) loops.set(terminal, (loops.get(terminal) ?? 0) + 1);
  const commons = survey.panel.terminals.filter(({ role }) => role === 'common').map(({ number }) => number);
  return new Set([...commons, ...[...loops].filter(([, count]) => count > 1).map(([terminal]) => terminal)]);
});

/** A screw that belongs to several zones, or that the panel's diagram calls a common. */
export function isSharedScrew(survey: Survey, terminal: string): boolean {
  return sharedScrews(survey).has(terminal);
}

const ranksOf = remember((field: Field) => {
  const known = new Map<string, Map<NodeId, number>>();
  return (zone: string) => {
    const rank = known.get(zone) ?? rankFromScrew(field, zone);
    known.set(zone, rank);
    return rank;
  };
});

/** How many conductors, contacts and resistors lie between a node and the zone's first screw. */
function rankFromScrew(field: Field, zone: string): Map<NodeId, number> {
  const start = field.wiring.loops[zone]?.[0];
  const rank = new Map<NodeId, number>();
  if (start === undefined) return rank;
  const contactsAt = new Map<NodeId, NodeId[]>();
  for (const { a, b } of field.contactsOf(zone)) {
    contactsAt.set(a, [...(contactsAt.get(a) ?? []), b]);
    contactsAt.set(b, [...(contactsAt.get(b) ?? []), a]);
  }
  const otherScrew = field.wiring.loops[zone]?.[1];
  rank.set(start, 0);
  for (const [node, steps] of rank) {
    // The second screw is where the loop ends, however short the way through a contact across: behind it lie other zones.
    if (node === otherScrew) continue;
    const next = [
      ...(field.conductorsAt.get(node) ?? []).map(({ near, far }) => (near === node ? far : near)),
      ...(contactsAt.get(node) ?? []),
      ...(field.resistorsAt.get(node) ?? [])
        .filter((resistor) => resistor.zone === zone)
        .map(({ a, b }) => (a === node ? b : a)),
    ];
    for (const one of next) if (!rank.has(one)) rank.set(one, steps + 1);
  }
  if (otherScrew !== undefined) rank.delete(otherScrew);
  return rank;
}

/** A tamper loop stays joined as it is; only its two ends move. */
export function endsOfLoop(
  field: Field,
  loop: { readonly id: string; readonly terminals: readonly string[] },
): Ends {
  const at = (terminal: string | undefined) =>
    field.conductorsOf(loop.id).filter(({ screw }) => screw === terminal);
  return { in: at(loop.terminals[0]), out: at(loop.terminals[1]) };
}
