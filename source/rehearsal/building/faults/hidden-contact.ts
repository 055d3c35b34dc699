import { awgConductor, ohmsPerMetre } from '../../../electrical/conductor.ts';
import { formatQuantity } from '../../../electrical/quantity.ts';
import { learnContact } from '../../../site/found-contact.ts';
import type { Building, Contact } from '../building.ts';
import { aboutZone, type Placed, type Scene, withContact, zoneOf } from './fault.ts';

const CONDUCTOR = awgConductor(22);

type Hidden = Pick<Contact, 'closedOhms' | 'stuck'> & { readonly metres: number };

/**
 * A window's contact before that of a detector, at the end of a cable that goes on from there. Whoever finds it shuts
 * the window, and the survey learns of it; inside a resistor that the detector has to itself it is a part of that one.
 */
export function hiddenContact(building: Building, scene: Scene, host: Contact, hidden: Hidden): Placed {
  const { closedOhms, stuck, metres } = hidden;
  const { name } = scene.survey.detectors.find(({ id }) => id === host.detector)!;
  const length = formatQuantity(Math.round(metres), 'metres');
  const learned = learnContact(scene.survey, {
    beside: host.detector,
    name: `Window behind ${name}`.slice(0, 80),
    kind: 'window-contact',
    cable: { length, conductor: CONDUCTOR.name },
  });
  const detector = learned.id ?? `behind-${host.detector}`;
  const post = (terminal: string) => `post:${detector}.${terminal}`;
  const contact: Contact = {
    ...host,
    detector,
    a: post('a'),
    b: post('b'),
    closedOhms,
    unpowered: null,
    stuck,
  };
  const onwards = `${host.a}:onwards`;
  const [out, back] = ends(learned.cable ?? detector, metres * ohmsPerMetre(CONDUCTOR));
  const wires = new Map(building.wires)
    .set(out.id, { ...out, near: host.a, far: contact.a })
    .set(back.id, { ...back, near: onwards, far: contact.b });
  const moved = withContact({ ...building, wires }, { ...host, a: onwards });
  return {
    building: { ...moved, contacts: [...moved.contacts, contact] },
    about: aboutZone(scene, zoneOf(scene, host.detector)),
    mend: {
      by: 'survey',
      says: `a window that the survey does not know ${stuck === null ? 'hangs' : 'stood open'} behind ${host.detector}${stuck === null ? '' : '; it was shut'}`,
      to: (now) => madeThrough(now, contact, [out.id, back.id]),
      hands: (now) => withContact(now, { ...contact, stuck: null }),
      set: learned.changes,
      // By the words that a correction asks for.
      told: `a contact that was found behind ${host.detector}: window-contact, ${length} of cable from there`,
    },
  };
}

const ends = (cable: string, ohms: number) =>
  [1, 2].map((core) => ({ id: `${cable}/${core}`, cable, ohms, broken: false })) as [Core, Core];

type Core = { readonly id: string; readonly cable: string; readonly ohms: number; readonly broken: boolean };

/** As if it were not there. */
function madeThrough(now: Building, contact: Contact, cores: readonly string[]): Building {
  const wires = new Map(
    [...now.wires].map(([id, wire]) => [id, cores.includes(id) ? { ...wire, ohms: 0 } : wire]),
  );
  return withContact({ ...now, wires }, { ...contact, stuck: 'closed', closedOhms: 0 });
}
