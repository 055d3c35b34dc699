import type { Building, Wire } from './building.ts';
import {
  boardOf,
  done,
  type Handled,
  impossible,
  isPlace,
  landingAt,
  thingsAt,
  withBridge,
  withResistor,
  withWire,
} from './places.ts';

/**
 * Off its screw. What came off one screw stays together until it is parted or landed; a resistor that a wire is
 * spliced to comes along with it, its other leg free.
 */
export function lift(building: Building, conductor: string, at: string): Handled {
  const wire = building.wires.get(conductor);
  if (wire === undefined) return impossible(building, `there is no wire ${conductor}`);
  const screw = `old:${at.replace('old:', '')}`;
  const { near } = wire;
  const free = `lifted:${screw}`;
  if (near === screw) return done(withNear(building, wire, free));
  if (near === free || legOn(building, near, free) !== undefined) return done(building);
  const leg = legOn(building, near, screw);
  if (leg !== undefined) {
    const moved = leg.a === screw ? { ...leg, a: free } : { ...leg, b: free };
    return done(withResistor(building, moved));
  }
  const cannot = `${conductor} is not under screw ${at}, it is at ${near}`;
  return impossible(cut(building, conductor), cannot);
}

/** A resistor with one leg at each of two places. */
const legOn = (building: Building, a: string, b: string) =>
  [...building.resistors.values()].find(
    (one) => (one.a === a && one.b === b) || (one.a === b && one.b === a),
  );

/** The end comes free, wherever it was. */
export function cut(building: Building, conductor: string): Building {
  const wire = building.wires.get(conductor);
  if (wire === undefined || wire.near.startsWith('lifted:')) return building;
  return withNear(building, wire, `lifted:${wire.near}`);
}

/** The ends of a splice come apart, each by itself; whatever else is in it stays there. */
export function part(building: Building, join: string, conductors: readonly string[]): Handled {
  const wires = conductors.flatMap((id) => building.wires.get(id) ?? []);
  const elsewhere = wires.filter(({ near }) => near !== join);
  const after = wires.reduce((now, wire) => withNear(now, wire, wire.id), building);
  if (wires.length < conductors.length)
    return impossible(after, `not all of ${conductors.join(', ')} are there`);
  if (elsewhere.length > 0) {
    const [first] = elsewhere;
    return impossible(after, `${first!.id} is not in ${join}, it is at ${first!.near}`);
  }
  const left = thingsAt(after, join);
  const more = left.wires.map(({ id }) => id).filter((id) => building.wires.get(id)!.near === join);
  return more.length > 0 ? impossible(after, `${more.join(', ')} is in ${join} too`) : done(after);
}

/** A free end is covered, by itself. */
export function insulate(building: Building, conductor: string): Handled {
  const wire = building.wires.get(conductor);
  if (wire === undefined) return impossible(building, `there is no wire ${conductor}`);
  const after = withNear(building, wire, wire.id);
  const cannot = notFree(building, wire);
  return cannot === null ? done(after) : impossible(after, cannot);
}

/** Onto a terminal of a board, into a joint, or onto the free leg of a resistor. */
export function land(building: Building, conductor: string, at: string): Handled {
  const wire = building.wires.get(conductor);
  if (wire === undefined) return impossible(building, `there is no wire ${conductor}`);
  // Where the resistor for a wire was never fitted there is no leg to land it on: it goes under the screw itself.
  const terminal = at.replace(/:resistor$/, '');
  if (terminal !== at && boardOf(building, at) !== null && landingAt(building, terminal) !== at) {
    const under = land(building, conductor, terminal);
    return impossible(under.building, under.cannot ?? `no resistor is at ${terminal}`);
  }
  const board = boardOf(building, at);
  const cannot =
    board !== null && !building.mounted.has(board)
      ? `${board} is not mounted, so ${at} is not there`
      : wire.near === at
        ? null
        : notFree(building, wire);
  const after = wire.near === at ? building : putOn(building, wire, at);
  return cannot === null ? done(after) : impossible(after, cannot);
}

/** Why an end cannot be taken as it is; null where it lies free, by itself or with what came off its screw. */
function notFree(building: Building, { id, cable, near, far }: Wire): string | null {
  if (near === id || near.startsWith('lifted:') || near.startsWith('end:')) return null;
  const there = thingsAt(building, near);
  if (there.isFixed) return `${id} is still under ${near}`;
  const [leg] = there.legs;
  if (leg !== undefined) return `${leg.id} still hangs on ${id}`;
  // A spare core that doubles another one is twisted to it, and comes along or is untwisted.
  const isTwin = (one: Wire) => one.cable === cable && one.near === near && one.far === far;
  const others = there.wires.filter((one) => one.id !== id && !isTwin(one)).map((one) => one.id);
  return others.length > 0 ? `${id} is still joined to ${others.join(', ')}` : null;
}

function putOn(building: Building, wire: Wire, at: string): Building {
  const slip = building.slips.find(({ meant }) => landingAt(building, meant) === at);
  if (slip === undefined) return withNear(building, wire, at);
  const goes = slip.goes === 'loose' ? `loose:${wire.id}` : landingAt(building, slip.goes);
  return {
    ...withNear(building, wire, goes),
    slips: building.slips.filter((one) => one !== slip),
    slipped: [...building.slipped, { conductor: wire.id, meant: slip.meant }],
  };
}

/** An end goes from one terminal to another at the same device. */
export function moveEnd(building: Building, conductor: string, from: string, to: string): Handled {
  const wire = building.wires.get(conductor);
  if (wire === undefined) return impossible(building, `there is no wire ${conductor}`);
  if (wire.near === to || wire.far === to) return done(building);
  const after = withWire(building, wire.near === from ? { ...wire, near: to } : { ...wire, far: to });
  if (wire.near !== from && wire.far !== from) return impossible(after, `${conductor} is not at ${from}`);
  return done(after);
}

/** Bare ends are brought to another place; where a terminal is at either, a piece of wire joins the two. */
export function splice(building: Building, into: string, from: string): Handled {
  if (into === from) return done(building);
  const there = thingsAt(building, from);
  const nothing = [from, into].find((node) => !isPlace(building, node));
  if (nothing !== undefined) {
    if (nothing === from && thingsAt(building, into).wires.length > 0) return done(building);
    return impossible(building, `there is nothing at ${nothing}`);
  }
  if (there.isFixed) return done(withBridge(building, `splice:${from}-${into}`, from, into));
  const at = (node: string) => (node === from ? into : node);
  const wires = new Map(building.wires);
  for (const wire of there.wires) wires.set(wire.id, { ...wire, near: at(wire.near), far: at(wire.far) });
  const resistors = new Map(building.resistors);
  for (const leg of there.legs) resistors.set(leg.id, { ...leg, a: at(leg.a), b: at(leg.b) });
  return done({ ...building, wires, resistors });
}

/** A piece of wire from each of these terminals of a board to the next. */
export function linkTerminals(building: Building, board: string, terminals: readonly string[]): Handled {
  const nodes = terminals.map((terminal) => (terminal.includes(':') ? terminal : `${board}:${terminal}`));
  const after = nodes
    .slice(1)
    .reduce(
      (now, node, index) => withBridge(now, `link:${nodes[index]}-${node}`, nodes[index]!, node),
      building,
    );
  return building.mounted.has(board) ? done(after) : impossible(after, `${board} is not mounted`);
}

function withNear(building: Building, wire: Wire, near: string): Building {
  return wire.near === near ? building : withWire(building, { ...wire, near });
}
