import type { Building, Resistor, Wire } from './building.ts';

/** A building after hands were laid on it, and why they could not do what was said; null where they did. */
export type Handled = { readonly building: Building; readonly cannot: string | null };

export const done = (building: Building): Handled => ({ building, cannot: null });
export const impossible = (building: Building, cannot: string): Handled => ({ building, cannot });

/** What ends at a place: ends of wires, legs of resistors, and what is screwed down there. */
export function thingsAt(building: Building, node: string) {
  return {
    wires: [...building.wires.values()].filter(({ near, far }) => near === node || far === node),
    legs: [...building.resistors.values()].filter(({ a, b }) => a === node || b === node),
    isFixed: isFixed(building, node),
  };
}

/** A screw, or a terminal of a device or a board: what is there stays when wires are taken from it. */
export function isFixed(building: Building, node: string): boolean {
  if (isScrew(node)) return !building.removed.has('panel');
  return (
    building.contacts.some(({ a, b }) => a === node || b === node) ||
    building.loads.some(({ positive, negative }) => positive === node || negative === node) ||
    isBoardTerminal(building, node)
  );
}

const isScrew = (node: string) => node.startsWith('old:');

/** The board that has this terminal; null where it is none of a board's. */
export function boardOf(building: Building, node: string): string | null {
  const id = node.slice(0, node.indexOf(':'));
  return building.inputs.some(({ board }) => board === id) ? id : null;
}

const isBoardTerminal = (building: Building, node: string) => boardOf(building, node) !== null;

/** Whether anything is there to put a probe or an end on. */
export function isPlace(building: Building, node: string): boolean {
  if (isScrew(node)) return !building.removed.has('panel');
  const board = boardOf(building, node);
  if (board !== null) return building.mounted.has(board);
  const { wires, legs, isFixed: fixed } = thingsAt(building, node);
  return fixed || wires.length > 0 || legs.length > 0;
}

/** The building with this wire in place of the one of its id. */
export function withWire(building: Building, wire: Wire): Building {
  return { ...building, wires: new Map(building.wires).set(wire.id, wire) };
}

/** The building with this resistor in place of the one of its id. */
export function withResistor(building: Building, resistor: Resistor): Building {
  return { ...building, resistors: new Map(building.resistors).set(resistor.id, resistor) };
}

/** The building with a piece of wire between two places. */
export function withBridge(building: Building, id: string, a: string, b: string): Building {
  const bridge = { id, a, b, ohms: 0.05 };
  return { ...building, bridges: new Map(building.bridges).set(id, bridge) };
}

/** Where a wire for a terminal goes: on the free leg of a resistor that stands there, or under the screw itself. */
export function landingAt({ resistors }: Building, terminal: string): string {
  const leg = `${terminal}:resistor`;
  return [...resistors.values()].some(({ a, b }) => a === leg || b === leg) ? leg : terminal;
}
