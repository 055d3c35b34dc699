import type { Bridge, Building, Harm, Resistor, Wire } from './building.ts';
import { isFed } from './circuit.ts';
import { LOW_INPUT_OHMS, readVolts } from './meter.ts';

/** What hands do to a building: the same words as a procedure's acts. */
export type HandAct =
  | { readonly do: 'lift'; readonly conductor: string; readonly at: string }
  | { readonly do: 'part'; readonly join: string; readonly conductors: readonly string[] }
  | { readonly do: 'cut'; readonly conductor: string; readonly at: string }
  | { readonly do: 'land'; readonly conductor: string; readonly at: string }
  | { readonly do: 'insulate'; readonly conductor: string }
  | { readonly do: 'label'; readonly conductor: string }
  | { readonly do: 'remove-resistor'; readonly resistor: string; readonly zone: string }
  | FitResistor
  | { readonly do: 'isolate'; readonly source: string }
  | { readonly do: 'connect-source'; readonly source: string; readonly board: string | null }
  | { readonly do: 'remove'; readonly what: string }
  | { readonly do: 'open-enclosure' };

/** Where a detector's old one sat, or at its contact; or at an input: in series with what lands there, or across it. */
type FitResistor = {
  readonly do: 'fit-resistor';
  readonly zone: string;
  readonly ohms: number;
  readonly detector?: string;
  readonly contact?: 'alarm' | 'tamper';
  readonly circuit?: { readonly board: string; readonly input: string };
  readonly across?: true;
};

/** Above this a conductor that is touched counts as live. */
const LIVE_VOLTS = 1;

/** The building after one act. What the act does not reach stays as it is. */
export function act(building: Building, done: HandAct): Building {
  switch (done.do) {
    case 'lift':
    case 'cut':
      return lift(touch(building, [done.conductor]), done.conductor);
    case 'part':
      return done.conductors.reduce((after, id) => moveEnd(after, id, id), touch(building, done.conductors));
    case 'insulate':
      return moveEnd(touch(building, [done.conductor]), done.conductor, done.conductor);
    case 'land':
      return land(touch(building, [done.conductor]), done.conductor, done.at);
    case 'remove-resistor':
      return removeResistor(building, done.resistor);
    case 'fit-resistor':
      return fitResistor(building, done);
    case 'isolate':
      return setConnected(building, done.source, false);
    case 'connect-source':
      return connect(building, done.source);
    case 'remove':
      return remove(building, done.what);
    case 'label':
    case 'open-enclosure':
      return building;
  }
}

/** What stands at one place is lifted together and stays together until it is parted or landed. */
function lift(building: Building, conductor: string): Building {
  const near = building.wires.get(conductor)?.near;
  if (near === undefined || near.startsWith('lifted:')) return building;
  return moveEnd(building, conductor, `lifted:${near}`);
}

function land(building: Building, conductor: string, at: string): Building {
  const slip = building.slips.find(({ meant }) => meant === at);
  if (slip === undefined) return moveEnd(building, conductor, building.landings.get(at) ?? at);
  const goes = slip.goes === 'loose' ? `loose:${conductor}` : (building.landings.get(slip.goes) ?? slip.goes);
  return {
    ...moveEnd(building, conductor, goes),
    slips: building.slips.filter((one) => one !== slip),
    slipped: [...building.slipped, { conductor, meant: at }],
  };
}

function moveEnd(building: Building, conductor: string, near: string): Building {
  const wire = building.wires.get(conductor);
  return wire === undefined || wire.near === near ? building : withWire(building, { ...wire, near });
}

/** The building with this wire in place of the one of its id. */
export function withWire(building: Building, wire: Wire): Building {
  return { ...building, wires: new Map(building.wires).set(wire.id, wire) };
}

/** At a detector the ends a resistor leaves are made through; at the panel they go to the new board. */
function removeResistor(building: Building, id: string): Building {
  const resistor = building.resistors.get(id);
  if (resistor === undefined) return building;
  const resistors = new Map(building.resistors);
  resistors.delete(id);
  const after = { ...building, resistors, takenOut: [...building.takenOut, resistor] };
  if (resistor.stands === 'across' || resistor.place === 'panel') return after;
  return withBridge(after, { id: `through:${id}`, a: resistor.a, b: resistor.b, ohms: 0.05 });
}

function withBridge(building: Building, bridge: Bridge): Building {
  return { ...building, bridges: new Map(building.bridges).set(bridge.id, bridge) };
}

/** New parts are 1 % parts, and taken as their value. */
function fitResistor(building: Building, fit: FitResistor): Building {
  const { zone, ohms, detector, circuit, across } = fit;
  if (fit.contact !== undefined) return fitAtContact(building, fit);
  if (circuit !== undefined) return fitAtInput(building, zone, ohms, circuit, across === true);
  const out = building.takenOut.filter((one) => one.zone === zone);
  // Of several that came out it is the one at the loop's end that is replaced: devices on one cable share their posts.
  const old = out.find(({ id }) => id === `${zone}.end-of-line`) ?? out.find((one) => sitsAt(one, detector));
  if (old === undefined) return building;
  const bridges = new Map(building.bridges);
  bridges.delete(`through:${old.id}`);
  return { ...building, bridges, resistors: new Map(building.resistors).set(old.id, { ...old, ohms }) };
}

/** Across a contact that opens; in the row with one that closes. */
function fitAtContact(building: Building, { zone, ohms, detector, contact: purpose }: FitResistor): Building {
  const contact = building.contacts.find((one) => one.detector === detector && one.purpose === purpose);
  if (contact === undefined) return building;
  const id = `fitted:${detector}.${purpose}`;
  const { a, b } = contact;
  const part = { id, zone, ohms, place: 'detector' } as const;
  const resistors = new Map(building.resistors);
  if (contact.sense !== 'normally-open')
    return { ...building, resistors: resistors.set(id, { ...part, a, b, stands: 'across' }) };
  const between = `post:${detector}.${purpose}:resistor`;
  return {
    ...building,
    resistors: resistors.set(id, { ...part, a: between, b, stands: 'series' }),
    contacts: building.contacts.map((one) => (one === contact ? { ...one, b: between } : one)),
  };
}

const sitsAt = ({ a, b }: Resistor, detector: string | undefined) =>
  detector === undefined || [a, b].some((node) => node.startsWith(`post:${detector}.`));

function fitAtInput(
  building: Building,
  zone: string,
  ohms: number,
  circuit: { readonly board: string; readonly input: string },
  across: boolean,
): Building {
  const input = building.inputs.find((one) => one.board === circuit.board && one.input === circuit.input);
  if (input === undefined) return building;
  const id = `fitted:${circuit.board}/${circuit.input}`;
  const b = across ? input.common : `${input.terminal}:resistor`;
  const part = {
    id,
    zone,
    ohms,
    a: input.terminal,
    b,
    stands: across ? 'across' : 'series',
    place: 'panel',
  } as const;
  const after = { ...building, resistors: new Map(building.resistors).set(id, part) };
  return across ? after : { ...after, landings: new Map(building.landings).set(input.terminal, b) };
}

function setConnected(building: Building, name: string, connected: boolean): Building {
  const source = building.sources.get(name);
  if (source === undefined || source.connected === connected) return building;
  return { ...building, sources: new Map(building.sources).set(name, { ...source, connected }) };
}

/** A board that meets alternating current or reversed polarity is destroyed. */
function connect(building: Building, name: string): Building {
  const source = building.sources.get(name);
  const after = setConnected(building, name, true);
  if (source?.feedsBoard === undefined || source.feedsBoard === null) return after;
  if (source.mode === 'dc' && source.volts > 0) return after;
  const what = source.mode === 'ac' ? 'alternating current' : 'reversed polarity';
  return hurt(after, { kind: 'board-destroyed', says: `${source.feedsBoard} met ${what} from ${name}` });
}

/** The old board goes with all its tracks; a thing that is no more conducts nothing. */
function remove(building: Building, what: string): Building {
  const stays = (id: string) => !id.startsWith(`${what}:`) && id !== what;
  return {
    ...building,
    bridges: new Map([...building.bridges].filter(([id]) => stays(id))),
    rails: building.rails.filter(({ id }) => stays(id)),
    loads: building.loads.filter(({ device }) => stays(device)),
  };
}

/** Notes it where a hand is laid on a conductor that stands under voltage. */
function touch(building: Building, conductors: readonly string[]): Building {
  const against = ['earth', ...building.rails.flatMap(({ plus, minus }) => [plus, minus])];
  for (const mode of ['dc', 'ac'] as const) {
    if (!isAnyConnected(building, mode)) continue;
    for (const id of conductors) {
      const node = building.wires.get(id)?.near;
      if (node === undefined) continue;
      // Across what a hand draws: what is only induced collapses.
      const volts = Math.max(
        ...against.map((other) => Math.abs(readVolts(building, mode, node, other, LOW_INPUT_OHMS))),
      );
      if (volts > LIVE_VOLTS) {
        const says = `${id} was touched at ${volts.toFixed(1)} V ${mode === 'dc' ? 'DC' : 'AC'}`;
        return hurt(building, { kind: 'worked-live', says });
      }
    }
  }
  return building;
}

function isAnyConnected(building: Building, mode: 'dc' | 'ac'): boolean {
  if (mode === 'dc') return isFed(building);
  return [...building.sources.values()].some((one) => one.connected && one.mode === 'ac');
}

/** The building after something happened in it that harms a person or a board. */
function hurt(building: Building, harm: Harm): Building {
  return { ...building, harm: [...building.harm, harm] };
}
