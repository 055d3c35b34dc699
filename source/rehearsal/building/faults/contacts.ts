import type { Building } from '../building.ts';
import { type Fault, movedContacts, type Placed, type Scene, withContact, zoneOf } from './fault.ts';
import { hiddenContact } from './hidden-contact.ts';

function stuck(building: Building, scene: Scene, detector: string, how: 'open' | 'closed'): Placed {
  const set = (now: Building, to: 'open' | 'closed' | null) =>
    withContact(now, {
      ...now.contacts.find((one) => one.detector === detector && one.purpose === 'alarm')!,
      stuck: to,
    });
  return {
    building: set(building, how),
    about: [zoneOf(scene, detector), detector],
    mend: { by: 'hand', says: `the contact of ${detector} was replaced`, to: (now) => set(now, null) },
  };
}

export const CONTACT_FAULTS: readonly Fault[] = [
  {
    name: 'contact-stuck-open',
    says: 'The contact of one detector stays open whatever its door does.',
    harms: false,
    place: (building, scene, random) => {
      const contacts = movedContacts(building, scene);
      return contacts.length === 0 ? null : stuck(building, scene, random.pick(contacts).detector, 'open');
    },
  },
  {
    name: 'contact-bridged',
    says: 'Somebody bridged a contact, so that its door never reports.',
    harms: false,
    place: (building, scene, random) => {
      const contacts = movedContacts(building, scene);
      return contacts.length === 0 ? null : stuck(building, scene, random.pick(contacts).detector, 'closed');
    },
  },
  {
    name: 'relay-unpowered',
    says: 'A powered detector has failed and drops its relay although its supply is there.',
    harms: false,
    place: (building, scene, random) => {
      const powered = movedContacts(building, scene).filter(({ unpowered }) => unpowered !== null);
      if (powered.length === 0) return null;
      const { detector } = random.pick(powered);
      const set = (now: Building, minimumVolts: number) => ({
        ...now,
        loads: now.loads.map((load) => (load.device === detector ? { ...load, minimumVolts } : load)),
      });
      const least = building.loads.find(({ device }) => device === detector)?.minimumVolts;
      if (least === undefined) return null;
      return {
        building: set(building, Number.POSITIVE_INFINITY),
        about: [zoneOf(scene, detector), detector],
        mend: { by: 'hand', says: `${detector} was replaced`, to: (now) => set(now, least) },
      };
    },
  },
  {
    name: 'hidden-detector',
    says: 'A contact that no paper shows hangs in series on a zone, and at this moment it is open.',
    harms: false,
    place: (building, scene, random) => {
      const contacts = movedContacts(building, scene).filter(({ sense }) => sense === 'normally-closed');
      if (contacts.length === 0) return null;
      const host = random.pick(contacts);
      const closedOhms = random.between(0.1, 1.5);
      const stuck = random.next() < 0.7 ? ('open' as const) : null;
      const metres = random.between(2, 8);
      return hiddenContact(building, scene, host, { closedOhms, stuck, metres });
    },
  },
];
