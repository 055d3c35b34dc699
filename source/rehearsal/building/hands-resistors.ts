import type { Building, Resistor } from './building.ts';
import { boardOf, done, type Handled, impossible, isPlace, withBridge, withResistor } from './places.ts';

/** Between two places; or, not so said, where an old one sat, at a contact, or at an input. */
export type FitResistor = {
  readonly do: 'fit-resistor';
  readonly zone: string;
  readonly ohms: number;
  readonly between?: readonly [string, string];
  readonly detector?: string;
  readonly contact?: 'alarm' | 'tamper';
  readonly circuit?: { readonly board: string; readonly input: string };
  readonly across?: true;
};

/** Taken out, it leaves two bare ends: nothing is made through by it. */
export function removeResistor(building: Building, id: string): Handled {
  const resistor = building.resistors.get(id);
  if (resistor === undefined) return impossible(building, `there is no ${id}`);
  const after = { ...without(building, id), takenOut: [...building.takenOut, resistor] };
  return resistor.by === 'jumper'
    ? impossible(after, `${id} is set by a jumper: there is no part to take out`)
    : done(after);
}

function without(building: Building, id: string): Building {
  return { ...building, resistors: new Map([...building.resistors].filter(([key]) => key !== id)) };
}

/** A detector's own resistor to another value, or to none: then its place is made through, or stands open. */
export function setJumper(
  building: Building,
  id: string,
  ohms: number | null,
  leaves: 'through' | 'open',
): Handled {
  const known = building.resistors.get(id) ?? building.takenOut.find((one) => one.id === id);
  if (known === undefined) return impossible(building, `there is no ${id}`);
  const bare = { ...without(building, id), bridges: new Map(building.bridges) };
  bare.bridges.delete(`through:${id}`);
  const after =
    ohms !== null
      ? withResistor(bare, { ...known, ohms })
      : leaves === 'through'
        ? withBridge(bare, `through:${id}`, known.a, known.b)
        : bare;
  const kept = building.takenOut.filter((one) => one.id !== id);
  const noted = { ...after, takenOut: ohms === null ? [...kept, known] : kept };
  return known.by === 'part'
    ? impossible(noted, `${id} is a part: there is no jumper that sets it`)
    : done(noted);
}

/** New parts are 1 % parts, and taken as their value. */
export function fitResistor(building: Building, fit: FitResistor): Handled {
  if (fit.contact !== undefined) return fitAtContact(building, fit);
  if (fit.between !== undefined) return fitBetween(building, fit, fit.between);
  return fit.circuit !== undefined ? fitAtInput(building, fit, fit.circuit) : fitWhereOldSat(building, fit);
}

const nameOf = ({ zone, detector, contact, circuit }: FitResistor) =>
  circuit !== undefined
    ? `fitted:${circuit.board}/${circuit.input}`
    : contact !== undefined
      ? `fitted:${detector}.${contact}`
      : `fitted:${zone}${detector === undefined ? '' : `.${detector}`}`;

function fitBetween(building: Building, fit: FitResistor, [a, b]: readonly [string, string]): Handled {
  const part: Resistor = {
    id: nameOf(fit),
    zone: fit.zone,
    ohms: fit.ohms,
    a,
    b,
    stands: fit.across ? 'across' : 'series',
    place: fit.circuit === undefined ? 'detector' : 'panel',
    by: 'part',
  };
  const after = withResistor(building, part);
  const unmounted = [a, b]
    .map((node) => boardOf(building, node))
    .find((one) => one !== null && !building.mounted.has(one));
  if (unmounted !== undefined) return impossible(after, `${unmounted} is not mounted`);
  // One leg at least is on something that is there; the other may hang free, for a wire to be landed on.
  return [a, b].some((node) => isPlace(building, node))
    ? done(after)
    : impossible(after, `nothing is at ${a} or ${b}`);
}

function fitWhereOldSat(building: Building, { zone, ohms, detector }: FitResistor): Handled {
  const out = building.takenOut.filter((one) => one.zone === zone);
  // Of several that came out it is the one at the loop's end that is replaced: devices on one cable share their posts.
  const old = out.find(({ id }) => id === `${zone}.end-of-line`) ?? out.find((one) => sitsAt(one, detector));
  if (old === undefined)
    return impossible(
      building,
      `nothing was taken out at ${detector ?? zone}: there is no bare place for it`,
    );
  const bridges = new Map(building.bridges);
  bridges.delete(`through:${old.id}`);
  return done(withResistor({ ...building, bridges }, { ...old, ohms, by: 'part' }));
}

const sitsAt = ({ a, b }: Resistor, detector: string | undefined) =>
  detector === undefined || [a, b].some((node) => node.startsWith(`post:${detector}.`));

/** Across a contact that opens; in the row with one that closes. */
function fitAtContact(building: Building, fit: FitResistor): Handled {
  const { detector, contact: purpose, zone, ohms } = fit;
  const contact = building.contacts.find((one) => one.detector === detector && one.purpose === purpose);
  if (contact === undefined) return impossible(building, `${detector} has no ${purpose} contact`);
  const { a, b } = contact;
  const fitted = { id: nameOf(fit), zone, ohms, place: 'detector', by: 'part' } as const;
  if (contact.sense !== 'normally-open')
    return done(withResistor(building, { ...fitted, a, b, stands: 'across' }));
  const between = `post:${detector}.${purpose}:resistor`;
  const after = {
    ...building,
    contacts: building.contacts.map((one) => (one === contact ? { ...one, b: between } : one)),
  };
  return done(withResistor(after, { ...fitted, a: between, b, stands: 'series' }));
}

/** Across an input's terminals; or on one of them, its other leg free for the wire that lands there. */
function fitAtInput(
  building: Building,
  fit: FitResistor,
  circuit: { readonly board: string; readonly input: string },
): Handled {
  const input = building.inputs.find((one) => one.board === circuit.board && one.input === circuit.input);
  if (input === undefined) return impossible(building, `${circuit.board} has no input ${circuit.input}`);
  const b = fit.across ? input.common : `${input.terminal}:resistor`;
  const handled = fitBetween(building, fit, [input.terminal, b]);
  if (fit.across) return handled;
  const landings = new Map(building.landings).set(input.terminal, b);
  return { ...handled, building: { ...handled.building, landings } };
}
