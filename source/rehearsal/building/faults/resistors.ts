import { preferredValues } from '../../../electrical/e-series.ts';
import { formatQuantity } from '../../../electrical/quantity.ts';
import type { Building, Resistor } from '../building.ts';
import { aboutZone, type Fault, movedContacts, type Scene, withContact, zoneOf } from './fault.ts';

/** Resistors of zones of which at least one detector is moved. */
function movedResistors(building: Building, scene: Scene): Resistor[] {
  const zones = new Set(movedContacts(building, scene).map(({ detector }) => zoneOf(scene, detector)));
  return [...building.resistors.values()].filter(({ zone }) => zones.has(zone));
}

const withResistor = (building: Building, resistor: Resistor): Building => ({
  ...building,
  resistors: new Map(building.resistors).set(resistor.id, resistor),
});

/** With the resistor that the survey has, while none was fitted in its stead. */
const asSurveyed = (now: Building, resistor: Resistor): Building =>
  now.resistors.has(resistor.id) && !now.takenOut.some(({ id }) => id === resistor.id)
    ? withResistor(now, resistor)
    : now;

const withoutResistor = (building: Building, id: string): Building => ({
  ...building,
  resistors: new Map([...building.resistors].filter(([key]) => key !== id)),
});

export const RESISTOR_FAULTS: readonly Fault[] = [
  {
    name: 'resistor-at-detector',
    says: 'Another resistor sits out at a detector, in series with its contact, and no paper shows it.',
    harms: false,
    place: (building, scene, random) => {
      const contacts = movedContacts(building, scene);
      if (contacts.length === 0) return null;
      const host = random.pick(contacts);
      const node = `${host.a}:resistor`;
      const id = `hidden-resistor:${host.detector}`;
      const extra: Resistor = {
        id,
        zone: zoneOf(scene, host.detector),
        ohms: random.pick([1000, 2200, 4700, 5600]) * random.between(0.95, 1.05),
        a: host.a,
        b: node,
        stands: 'series',
        place: 'detector',
        by: 'part',
      };
      const through = (now: Building): Building => {
        const contact = now.contacts.find(({ a }) => a === node);
        return contact === undefined ? now : withContact(withoutResistor(now, id), { ...contact, a: host.a });
      };
      return {
        building: withResistor(withContact(building, { ...host, a: node }), extra),
        about: aboutZone(scene, extra.zone),
        mend: { by: 'hand', says: `a resistor was taken out at ${host.detector}`, to: through },
      };
    },
  },
  {
    name: 'resistor-value-differs',
    says: 'A resistor has another value than the survey says.',
    harms: false,
    place: (building, scene, random) => {
      const known = movedResistors(building, scene).filter(
        ({ id }) => typeof scene.wiring.resistors.find((one) => one.id === id)?.ohms === 'number',
      );
      if (known.length === 0) return null;
      const resistor = random.pick(known);
      const stated = scene.wiring.resistors.find(({ id }) => id === resistor.id)!.ohms as number;
      const others = preferredValues('E12', 470, 10_000).filter((ohms) => Math.abs(ohms / stated - 1) > 0.3);
      const value = random.pick(others);
      return {
        building: withResistor(building, { ...resistor, ohms: value * random.between(0.96, 1.04) }),
        about: [resistor.id, ...aboutZone(scene, resistor.zone)],
        mend: {
          by: 'survey',
          says: `the resistor of ${resistor.zone} is ${formatQuantity(value, 'ohms')}`,
          to: (now) => asSurveyed(now, resistor),
          set: [{ path: `zones.${resistor.zone}.loop.resistor`, value: formatQuantity(value, 'ohms') }],
        },
      };
    },
  },
  {
    name: 'resistor-missing',
    says: 'The resistor that the survey shows is not there: the loop is made through instead.',
    harms: false,
    place: (building, scene, random) => {
      const series = movedResistors(building, scene).filter(({ stands }) => stands === 'series');
      if (series.length === 0) return null;
      const resistor = random.pick(series);
      const bare = withResistor(building, { ...resistor, ohms: 0.05 });
      return {
        building: bare,
        about: [resistor.id, ...aboutZone(scene, resistor.zone)],
        mend: {
          by: 'survey',
          says: `the loop of ${resistor.zone} has no resistor`,
          to: (now) => asSurveyed(now, resistor),
          set: [{ path: `zones.${resistor.zone}.loop`, value: { style: 'plain' } }],
        },
      };
    },
  },
];
