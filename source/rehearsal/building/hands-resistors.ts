import type { Building, Resistor } from './building.ts';
import { boardOf, done, type Handled, impossible, isPlace, withBridge, withResistor } from './places.ts';

/** Between two places: at a detector, at its contact, or at an input, where one leg may hang free for a wire. */
export type FitResistor = {
  readonly do: 'fit-resistor';
  readonly zone: string;
  readonly ohms: number;
  readonly between: readonly [string, string];
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
  return fit.contact === undefined ? fitBetween(building, fit, fit.between) : fitAtContact(building, fit);
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

/** Across a contact that opens; in the row with one that closes. */
function fitAtContact(building: Building, fit: FitResistor): Handled {
  const { detector, contact: purpose, zone, ohms } = fit;
  const contact = building.contacts.find((one) => one.detector === detector && one.purpose === purpose);
  if (contact === undefined) return impossible(building, `${detector} has no ${purpose} contact`);
  if (building.resistors.get(nameOf(fit))?.ohms === ohms) return done(building);
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
