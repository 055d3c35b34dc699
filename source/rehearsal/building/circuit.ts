import type { Building, Contact, Load, Rail, Source } from './building.ts';
import { type Element, type Solved, solveCircuit } from './solve.ts';

type CircuitMode = 'dc' | 'ac';

/** A lead, a screw, a good splice. */
const TOUCH_OHMS = 0.01;

/** A switched output while it is closed: from memory. */
const OUTPUT_OHMS = 0.1;

/** The building's circuit at this moment, solved, with what its relays and devices do in it. */
export type Circuit = {
  readonly elements: readonly Element[];
  readonly solved: Solved;
  /** Devices that have voltage enough to run. */
  readonly running: ReadonlySet<string>;
};

/** Devices by what they do: run on what reaches them, draw on it in vain, or take nothing. */
type Drawing = { readonly running: ReadonlySet<string>; readonly starved: ReadonlySet<string> };

const NOTHING: Drawing = { running: new Set(), starved: new Set() };
/** Below this a device's regulator takes nothing. From memory. */
const STARVED_ABOVE_VOLTS = 2;

const cache = new WeakMap<Building, Partial<Record<CircuitMode, Circuit>>>();

/** Solved once for each state of a building: a building never changes, hands make another one. */
export function circuitOf(building: Building, mode: CircuitMode): Circuit {
  const known = cache.get(building) ?? {};
  cache.set(building, known);
  known[mode] ??=
    mode === 'dc'
      ? settle(building)
      : build(building, 'ac', { ...NOTHING, running: circuitOf(building, 'dc').running });
  return known[mode];
}

/** Whether anything is connected that gives direct voltage. */
export function isFed(building: Building): boolean {
  const connected = [...building.sources.values()].some((one) => one.connected && one.mode === 'dc');
  return connected || building.rails.some((rail) => feedOf(building, rail) !== null);
}

/**
 * Devices start running and are let go while too little voltage reaches them, until nothing changes: first they draw
 * in vain, then nothing. Either only ever raises the voltage of the others, so it ends.
 */
function settle(building: Building): Circuit {
  let drawing = NOTHING;
  if (isFed(building)) drawing = { ...NOTHING, running: new Set(building.loads.map(({ device }) => device)) };
  for (;;) {
    const circuit = build(building, 'dc', drawing);
    const { running, starved } = drawing;
    const runs = new Set(
      building.loads
        .filter((load) => running.has(load.device) && voltsAt(circuit, load) >= load.minimumVolts)
        .map(({ device }) => device),
    );
    // Whoever is let go draws in vain first: what it took while it ran says nothing of what it is left with.
    const vain = building.loads.filter(
      (load) =>
        (running.has(load.device) && !runs.has(load.device)) ||
        (starved.has(load.device) && voltsAt(circuit, load) > STARVED_ABOVE_VOLTS),
    );
    if (runs.size === running.size && vain.length === starved.size) return circuit;
    drawing = { running: runs, starved: new Set(vain.map(({ device }) => device)) };
  }
}

function voltsAt(circuit: Circuit, load: Load): number {
  return circuit.solved.volts(load.positive, load.negative);
}

function build(building: Building, mode: CircuitMode, drawing: Drawing): Circuit {
  const { running } = drawing;
  const elements = [
    ...[...building.wires.values()].flatMap((wire) =>
      wire.broken ? [] : [resistance(wire.near, wire.far, wire.ohms)],
    ),
    ...[...building.resistors.values()].map(({ a, b, ohms }) => resistance(a, b, ohms)),
    ...[...building.bridges.values()].map(({ a, b, ohms }) => resistance(a, b, ohms)),
    ...building.outputs
      .filter(({ board, atRest }) => (atRest === 'closed') !== building.alarming.has(board))
      .map(({ a, b }) => resistance(a, b, OUTPUT_OHMS)),
    ...building.contacts
      .filter((contact) => isClosed(building, contact, running))
      .map(({ a, b, closedOhms }) => resistance(a, b, closedOhms)),
    ...building.loads.map((load) => loadElement(building, load, mode, drawing)),
    ...[...building.sources.values()].flatMap((source) => sourceElements(source, mode)),
    ...building.rails.map((rail) => railElement(building, rail, mode)),
  ];
  return { elements, solved: solveCircuit(elements), running };
}

const resistance = (a: string, b: string, ohms: number): Element => ({
  kind: 'resistance',
  a,
  b,
  ohms: Math.max(ohms, TOUCH_OHMS / 10),
});

/** How a contact stands: by what holds it, by its detector's supply, by the hand that works it. */
function isClosed(building: Building, contact: Contact, running: ReadonlySet<string>): boolean {
  if (contact.stuck !== null) return contact.stuck === 'closed';
  if (contact.unpowered !== null && !running.has(contact.detector)) return contact.unpowered === 'closed';
  const worked = building.worked.has(
    contact.purpose === 'tamper' ? `${contact.detector}.tamper` : contact.detector,
  );
  return worked === (contact.sense === 'normally-open');
}

function loadElement(
  building: Building,
  load: Load,
  mode: CircuitMode,
  { running, starved }: Drawing,
): Element {
  const { device, positive, negative, minimumVolts, standbyAmps, idleOhms } = load;
  if (mode === 'ac' || !running.has(device)) {
    const vainOhms = minimumVolts / standbyAmps;
    const drawsInVain = starved.has(device) && Number.isFinite(vainOhms);
    return resistance(positive, negative, drawsInVain ? vainOhms : idleOhms);
  }
  const amps = building.worked.has(load.device) ? load.alarmAmps : load.standbyAmps;
  return { kind: 'current', from: positive, to: negative, amps };
}

function sourceElements(source: Source, mode: CircuitMode): Element[] {
  const leads = source.connected
    ? [
        resistance(source.plus, source.joins[0], TOUCH_OHMS),
        resistance(source.minus, source.joins[1], TOUCH_OHMS),
      ]
    : [];
  const { plus, minus, volts, innerOhms } = source;
  if (source.mode === mode) return [{ kind: 'voltage', plus, minus, volts, innerOhms }, ...leads];
  if (source.induced) return [];
  return [resistance(plus, minus, innerOhms), ...leads];
}

/** What makes a rail's voltage now; null while nothing feeds it. */
export function feedOf(building: Building, rail: Rail) {
  return rail.fedBy.find(({ source }) => building.sources.get(source)?.connected === true) ?? null;
}

function railElement(building: Building, rail: Rail, mode: CircuitMode): Element {
  const feed = feedOf(building, rail);
  if (feed === null) return resistance(rail.plus, rail.minus, rail.idleOhms);
  const innerOhms = rail.innerOhms + feed.innerOhms;
  if (mode === 'ac') return resistance(rail.plus, rail.minus, innerOhms);
  return { kind: 'voltage', plus: rail.plus, minus: rail.minus, volts: feed.volts, innerOhms };
}
