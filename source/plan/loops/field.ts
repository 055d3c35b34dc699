import { contactKey } from '../../wiring/elements.ts';
import type { FittedContact, FittedResistor, NodeId, WiredConductor, Wiring } from '../../wiring/wiring.ts';

/** The wiring by node and by device, for walks through the building. */
export type Field = {
  readonly wiring: Wiring;
  readonly conductorsAt: ReadonlyMap<NodeId, readonly WiredConductor[]>;
  readonly resistorsAt: ReadonlyMap<NodeId, readonly FittedResistor[]>;
  readonly contactsOf: (zone: string) => readonly FittedContact[];
  /** True for a resistor that lies across a contact: no way on, but a way past. */
  readonly bridgesContact: (resistor: FittedResistor) => boolean;
  readonly conductorsOf: (zone: string) => readonly WiredConductor[];
  readonly resistorsOf: (zone: string) => readonly FittedResistor[];
};

/** The wiring by what one asks of it: what is at a node, and what belongs to a zone. */
export function readField(wiring: Wiring): Field {
  const conductorsAt = new Map<NodeId, WiredConductor[]>();
  const conductors = new Map<string, WiredConductor[]>();
  for (const conductor of wiring.conductors) {
    gather(conductorsAt, conductor.near, conductor);
    gather(conductorsAt, conductor.far, conductor);
    if (conductor.zone !== null) gather(conductors, conductor.zone, conductor);
  }
  const resistorsAt = new Map<NodeId, FittedResistor[]>();
  const resistors = new Map<string, FittedResistor[]>();
  for (const resistor of wiring.resistors) {
    gather(resistors, resistor.zone, resistor);
    gather(resistorsAt, resistor.a, resistor);
    gather(resistorsAt, resistor.b, resistor);
  }
  const contacts = new Map<string, FittedContact[]>();
  const contactPairs = new Set<string>();
  for (const contact of wiring.contacts) {
    gather(contacts, contact.zone, contact);
    contactPairs.add(pairOf(contact));
  }
  return {
    wiring,
    conductorsAt,
    resistorsAt,
    contactsOf: (zone) => contacts.get(zone) ?? [],
    bridgesContact: (resistor) => contactPairs.has(pairOf(resistor)),
    conductorsOf: (zone) => conductors.get(zone) ?? [],
    resistorsOf: (zone) => resistors.get(zone) ?? [],
  };
}

function pairOf({ a, b }: { readonly a: NodeId; readonly b: NodeId }): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}

function gather<K, V>(into: Map<K, V[]>, key: K, value: V): void {
  const list = into.get(key);
  if (list) list.push(value);
  else into.set(key, [value]);
}

/**
 * Every conductor that hangs on a node out in the building without a contact between, back to the panel and
 * no further: what one terminal of a detector is wired with. Where a resistor stands between terminal and
 * conductor the way goes on through it, but never past a contact.
 */
export function conductorsFrom(field: Field, start: NodeId): WiredConductor[] {
  const found = new Set<WiredConductor>();
  const seen = new Set<NodeId>([start]);
  for (const node of seen) {
    const conductors = field.conductorsAt.get(node) ?? [];
    for (const conductor of conductors) {
      found.add(conductor);
      seen.add(conductor.far);
      if (!conductor.atPanel) seen.add(conductor.near);
    }
    if (conductors.length > 0) continue;
    for (const resistor of field.resistorsAt.get(node) ?? [])
      if (resistor.place !== 'panel' && !field.bridgesContact(resistor))
        seen.add(resistor.a === node ? resistor.b : resistor.a);
  }
  return [...found];
}

/** Names of the contacts of some zones, as a loop's states name them. */
export function contactsOfZones(field: Field, zones: readonly string[]): Set<string> {
  return new Set(zones.flatMap((zone) => field.contactsOf(zone).map(contactKey)));
}

/** Every conductor that a device needs to report: its alarm contact's and its supply's, not its tamper's. */
export function conductorsServing(field: Field, device: string): Set<WiredConductor> {
  const { contacts, loads } = field.wiring;
  const alarm = contacts.filter((contact) => contact.detector === device && contact.purpose === 'alarm');
  const posts = [
    ...alarm.flatMap(({ a, b }) => [a, b]),
    ...loads
      .filter((load) => load.device === device)
      .flatMap(({ positive, negative }) => [positive, negative]),
  ];
  return new Set(posts.flatMap((post) => conductorsFrom(field, post)));
}
