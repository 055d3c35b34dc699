import type { Act, FitResistor } from './act.ts';
import { conductorsOf } from './act.ts';
import type { FittedContact, FittedResistor, Link, NodeId, WiredConductor, Wiring } from './wiring.ts';

type Of<D extends Act['do']> = Extract<Act, { do: D }>;
/** What hinders an act, in words; null where nothing does. */
type Hindrance = string | null;

/** A wiring that acts are done on, one after the other. What they do not reach stays the very same object. */
export class Bench {
  readonly #start: Wiring;
  readonly #conductors: Map<string, WiredConductor>;
  readonly #resistors: Map<string, FittedResistor>;
  readonly #links: Map<string, Link>;
  readonly #isolated: Set<string>;
  readonly #mounted: Set<string>;
  readonly #removed: Set<string>;
  #contacts: readonly FittedContact[];
  #loads: Wiring['loads'];

  constructor(start: Wiring) {
    this.#start = start;
    this.#conductors = new Map(start.conductors.map((one) => [one.id, one]));
    this.#resistors = new Map(start.resistors.map((one) => [one.id, one]));
    this.#links = new Map(start.links.map((one) => [one.id, one]));
    this.#isolated = new Set(start.isolated);
    this.#mounted = new Set(start.mounted);
    this.#removed = new Set(start.removed);
    this.#contacts = start.contacts;
    this.#loads = start.loads;
  }

  wiring(): Wiring {
    return {
      ...this.#start,
      conductors: [...this.#conductors.values()],
      resistors: [...this.#resistors.values()],
      contacts: this.#contacts,
      loads: this.#loads,
      links: [...this.#links.values()],
      isolated: [...this.#isolated],
      mounted: [...this.#mounted],
      removed: [...this.#removed],
    };
  }

  /** Does an act; what hinders it is said, and then nothing has changed. */
  do(act: Act): Hindrance {
    const unknown = conductorsOf(act).find((id) => !this.#conductors.has(id));
    if (unknown !== undefined) return `There is no wire ${unknown}.`;
    const doing = DOING[act.do] as (bench: Bench, act: Act) => Hindrance;
    return doing(this, act);
  }

  /** Nobody can say whether it was done: what it moves is at a place of its own that must be measured. */
  doubt(act: Act): Hindrance {
    for (const id of conductorsOf(act)) if (act.do !== 'label') this.place(id, `unknown:${id}`);
    const part = 'resistor' in act ? this.#resistors.get(act.resistor) : undefined;
    if (part !== undefined) this.#resistors.set(part.id, { ...part, place: null, ohms: 'unknown' });
    return null;
  }

  resistor(id: string): FittedResistor | undefined {
    return this.#resistors.get(id);
  }

  contact(detector: string, purpose: FittedContact['purpose'], zone: string): FittedContact | undefined {
    return this.#contacts.find(
      (one) => one.detector === detector && one.purpose === purpose && one.zone === zone,
    );
  }

  /** Resistors with a leg at such a place. */
  resistorsAt(isThere: (node: NodeId) => boolean): FittedResistor[] {
    return [...this.#resistors.values()].filter(({ a, b }) => isThere(a) || isThere(b));
  }

  hasContactAt(node: NodeId): boolean {
    return this.#contacts.some(({ a, b }) => a === node || b === node);
  }

  /** Wires with an end at a place, either end. */
  conductorsAt(node: NodeId): string[] {
    return [...this.#conductors.values()]
      .filter(({ near, far }) => near === node || far === node)
      .map(({ id }) => id);
  }

  near(conductor: string): NodeId {
    return this.#conductors.get(conductor)?.near ?? `unknown:${conductor}`;
  }

  place(conductor: string, near: NodeId): null {
    const one = this.#conductors.get(conductor);
    if (one !== undefined && one.near !== near) this.#conductors.set(conductor, { ...one, near });
    return null;
  }

  move({ conductor, from, to }: Of<'move'>): Hindrance {
    const one = this.#conductors.get(conductor)!;
    if (one.near === to || one.far === to) return null;
    if (one.near !== from && one.far !== from) return `${conductor} is not at ${from}.`;
    const end = one.near === from ? { near: to } : { far: to };
    this.#conductors.set(conductor, { ...one, ...end });
    return null;
  }

  lift({ conductor, at }: Of<'lift'> | Of<'cut'>): Hindrance {
    const { near, screw } = this.#conductors.get(conductor)!;
    if (isLoose(near)) return null;
    const isThere = near === `old:${at}` || (screw === at && isPanelPlace(near));
    return isThere
      ? this.place(conductor, `lifted:${near}`)
      : `${conductor} is not under screw ${at}: it is at ${near}.`;
  }

  part({ join, conductors }: Of<'part'>): Hindrance {
    const elsewhere = conductors.find((id) => this.near(id) !== join && this.near(id) !== id);
    if (elsewhere !== undefined)
      return `${elsewhere} is not in the splice ${join}: it is at ${this.near(elsewhere)}.`;
    for (const id of conductors) this.place(id, id);
    return null;
  }

  insulate({ conductor }: Of<'insulate'>): Hindrance {
    const near = this.near(conductor);
    if (near.startsWith('old:')) return `${conductor} is still under screw ${near.slice(4)}.`;
    const beside = near.startsWith('join:')
      ? this.conductorsAt(near).find((id) => id !== conductor)
      : undefined;
    return beside === undefined
      ? this.place(conductor, conductor)
      : `${conductor} is still spliced to ${beside}.`;
  }

  land({ conductor, at }: Of<'land'>): Hindrance {
    const near = this.near(conductor);
    if (near === at) return null;
    if (near.startsWith('old:')) return `${conductor} is still under screw ${near.slice(4)}.`;
    const board = boardOf(at);
    if (board !== null && !this.#mounted.has(board)) return `${board} is not mounted yet.`;
    return this.place(conductor, at);
  }

  removeResistor({ resistor }: Of<'remove-resistor'>): Hindrance {
    const part = this.#resistors.get(resistor);
    if (part?.by === 'jumper') return `${resistor} is set by a jumper: nothing can be taken out.`;
    this.#resistors.delete(resistor);
    return null;
  }

  setJumper({ resistor, ohms, leaves }: Of<'set-jumper'>): Hindrance {
    const part = this.#resistors.get(resistor);
    const id = `jumper:${resistor}`;
    if (part === undefined)
      return this.#links.has(id) || leaves === 'open' ? null : `There is no ${resistor}.`;
    if (ohms !== null) {
      this.#resistors.set(resistor, { ...part, ohms });
      return null;
    }
    this.#resistors.delete(resistor);
    if (leaves === 'through') this.#links.set(id, { id, a: part.a, b: part.b, kind: 'jumper' });
    return null;
  }

  fit(act: FitResistor): Hindrance {
    const { zone, ohms, between, detector, contact, circuit } = act;
    const [a, b] = between;
    const own = fittedId(act);
    const isSame = (one?: FittedResistor) => one?.a === a && one.b === b && one.ohms === ohms;
    const old = this.#resistors.get(own);
    // An old one that was left in its place is not gone for it: then both are there.
    // One as found of that value at that place is not the one that this act fitted.
    const isLeftIn =
      old !== undefined &&
      !(isSame(old) && old.isNew === true) &&
      circuit === undefined &&
      contact === undefined;
    const id = isLeftIn ? `beside:${own}` : own;
    if (isSame(this.#resistors.get(id))) return null;
    const board = circuit?.board;
    if (board !== undefined && !this.#mounted.has(board)) return `${board} is not mounted yet.`;
    if (contact !== undefined) this.#makeRoom(detector ?? '', contact, a, b);
    this.#resistors.set(id, {
      id,
      zone,
      ohms,
      role: contact === undefined ? 'end-of-line' : 'alarm',
      a,
      b,
      place: circuit === undefined && detector !== undefined ? { detector } : 'panel',
      by: 'part',
      isNew: true,
    });
    return null;
  }

  /** In the row with a contact: its second terminal's wire goes to the resistor's free leg. */
  #makeRoom(detector: string, purpose: FittedContact['purpose'], a: NodeId, b: NodeId): void {
    this.#contacts = this.#contacts.map((one) =>
      one.detector === detector && one.purpose === purpose && one.b === b && one.a !== a
        ? { ...one, b: a }
        : one,
    );
  }

  splice({ into, from }: Of<'splice'>): Hindrance {
    const at = (node: NodeId) => (node === from ? into : node);
    for (const [id, one] of this.#conductors)
      if (one.near === from || one.far === from)
        this.#conductors.set(id, { ...one, near: at(one.near), far: at(one.far) });
    for (const map of [this.#resistors, this.#links] as Map<string, { a: NodeId; b: NodeId }>[])
      for (const [id, one] of map)
        if (one.a === from || one.b === from) map.set(id, { ...one, a: at(one.a), b: at(one.b) });
    this.#contacts = this.#contacts.map((one) =>
      one.a === from || one.b === from ? { ...one, a: at(one.a), b: at(one.b) } : one,
    );
    this.#loads = this.#loads.map((one) =>
      one.positive === from || one.negative === from
        ? { ...one, positive: at(one.positive), negative: at(one.negative) }
        : one,
    );
    return null;
  }

  link({ board, terminals }: Of<'link'>): Hindrance {
    if (!this.#mounted.has(board)) return `${board} is not mounted yet.`;
    for (const [index, to] of terminals.entries()) {
      const from = terminals[index - 1];
      if (from === undefined) continue;
      const [a, b] = [`${board}:${from}`, `${board}:${to}`];
      this.#links.set(`link:${a}-${to}`, { id: `link:${a}-${to}`, a, b, kind: 'wire' });
    }
    return null;
  }

  mount(board: string): Hindrance {
    this.#mounted.add(board);
    return null;
  }

  isolate(source: string, isOff: boolean): Hindrance {
    if (isOff) this.#isolated.add(source);
    else this.#isolated.delete(source);
    return null;
  }

  remove(what: string): Hindrance {
    const still = [...this.#conductors.values()].find(({ near }) => near.startsWith('old:'));
    if (what === 'panel' && still !== undefined)
      return `${still.id} is still under screw ${still.near.slice(4)}.`;
    this.#removed.add(what);
    return null;
  }
}

const DOING: { readonly [D in Act['do']]: (bench: Bench, act: Of<D>) => Hindrance } = {
  lift: (bench, act) => bench.lift(act),
  cut: (bench, act) => bench.lift(act),
  part: (bench, act) => bench.part(act),
  land: (bench, act) => bench.land(act),
  insulate: (bench, act) => bench.insulate(act),
  move: (bench, act) => bench.move(act),
  'remove-resistor': (bench, act) => bench.removeResistor(act),
  'fit-resistor': (bench, act) => bench.fit(act),
  'set-jumper': (bench, act) => bench.setJumper(act),
  splice: (bench, act) => bench.splice(act),
  link: (bench, act) => bench.link(act),
  mount: (bench, { board }) => bench.mount(board),
  isolate: (bench, { source }) => bench.isolate(source, true),
  'connect-source': (bench, { source }) => bench.isolate(source, false),
  remove: (bench, { what }) => bench.remove(what),
  label: () => null,
  work: () => null,
  'open-enclosure': () => null,
};

/** An end that is on nothing: as it was found, or since it was lifted, parted or insulated. */
export function isLoose(near: NodeId): boolean {
  return near.startsWith('lifted:') || near.startsWith('end:') || !near.includes(':');
}

/** Whether a place is inside the old panel's enclosure: a screw of it, or a splice beside it. */
export function isPanelPlace(node: NodeId): boolean {
  return node.startsWith('old:') || node.startsWith('join:');
}

const OTHER_PLACES: ReadonlySet<string> = new Set([
  'old',
  'join',
  'field',
  'post',
  'end',
  'lifted',
  'joint',
  'adapter',
  'unknown',
]);

/** The board whose terminal a node is; null for any other place. */
export function boardOf(node: NodeId): string | null {
  const [place = '', rest] = node.split(':');
  return rest === undefined || OTHER_PLACES.has(place) ? null : place;
}

/** The name of a resistor that was fitted, by where it is. */
export function fittedId({
  zone,
  detector,
  contact,
  circuit,
}: Pick<FitResistor, 'zone' | 'detector' | 'contact' | 'circuit'>): string {
  if (circuit !== undefined) return `fitted:${circuit.board}/${circuit.input}`;
  return contact === undefined ? `${zone}.end-of-line` : `fitted:${detector}.${contact}`;
}
