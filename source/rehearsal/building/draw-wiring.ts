import { LENGTH_TOLERANCE, maxOhmsPerMetre, ohmsPerMetre } from '../../electrical/conductor.ts';
import { MECHANICAL_CLOSED_OHMS, RELAY_CLOSED_OHMS, RESISTOR_TOLERANCE } from '../../electrical/loop.ts';
import type { Cable, Detector, Survey } from '../../site/survey.ts';
import type { FittedContact, FittedLoad, FittedResistor, Wiring } from '../../wiring/wiring.ts';
import type { Contact, Load, Resistor, Wire } from './building.ts';
import type { Random } from './random.ts';

/** Values that end resistors have in the field; drawn where the survey knows none. Common practice, no source. */
const USUAL_OHMS = [1000, 2200, 3300, 4700, 5600] as const;
/** What makers state is a maximum: devices draw a little less. Common practice, no source. */
const TRUE_SHARE_OF_STATED = [0.85, 1] as const;
/** A device's supply input to a meter's small voltage: a diode and a regulator that is off. From memory. */
const IDLE_OHMS = [50e3, 300e3] as const;
/** What a device still runs with, as a share of the least its maker states. From memory. */
const DROP_OUT_SHARE = 0.9;
/** Lengths nobody knows are drawn from this share of what is assumed for them. */
const UNKNOWN_LENGTH_SHARE = [0.3, 1.9] as const;

/** The field wiring with true values drawn within the tolerance of each. */
export function drawWiring(survey: Survey, wiring: Wiring, random: Random) {
  return {
    wires: drawWires(survey, wiring, random.stream('cables')),
    resistors: drawResistors(survey, wiring, random.stream('resistors')),
    contacts: wiring.contacts.map((contact) => drawContact(survey, contact, random.stream('contacts'))),
    loads: wiring.loads.map((load) => drawLoad(survey, load, random.stream('loads'))),
  };
}

function drawWires(survey: Survey, wiring: Wiring, random: Random): Map<string, Wire> {
  const ohmsOfCable = new Map(
    survey.cables.map((cable) => [cable.id, oneWayOhms(cable, survey, random.stream(cable.id))]),
  );
  return new Map(
    wiring.conductors.map(({ id, cable, near, far }) => [
      id,
      { id, cable, near, far, ohms: ohmsOfCable.get(cable)!, broken: false },
    ]),
  );
}

/** All cores of a cable are of one length and one make. */
function oneWayOhms(cable: Cable, survey: Survey, random: Random): number {
  const off = LENGTH_TOLERANCE[cable.lengthKnown];
  const share =
    cable.lengthKnown === 'unknown'
      ? random.between(...UNKNOWN_LENGTH_SHARE)
      : random.between(1 - off, 1 + off);
  const { cableCelsius } = survey.conditions;
  const perMetre = random.between(
    ohmsPerMetre(cable.conductor, cableCelsius),
    maxOhmsPerMetre(cable.conductor, cableCelsius),
  );
  return cable.lengthMetres * share * perMetre;
}

function drawResistors(survey: Survey, wiring: Wiring, random: Random): Map<string, Resistor> {
  return new Map(
    wiring.resistors.map((fitted) => {
      const own = random.stream(fitted.id);
      const stated = fitted.ohms === 'unknown' ? own.pick(USUAL_OHMS) : fitted.ohms;
      const ohms = stated * own.between(1 - RESISTOR_TOLERANCE, 1 + RESISTOR_TOLERANCE);
      return [fitted.id, { ...placed(survey, wiring, fitted), ohms }];
    }),
  );
}

function placed(survey: Survey, wiring: Wiring, fitted: FittedResistor): Omit<Resistor, 'ohms'> {
  const { id, zone, a, b, place } = fitted;
  const bridgesContact = wiring.contacts.some((contact) => new Set([contact.a, contact.b, a, b]).size === 2);
  const across = bridgesContact || (fitted.role === 'end-of-line' && endsAcross(survey, wiring, zone));
  const atPanel = place === 'panel' || (place === null && [a, b].every(isPanelNode));
  return {
    id,
    zone,
    a,
    b,
    stands: across ? 'across' : 'series',
    place: atPanel ? 'panel' : 'detector',
    by: isSetByJumper(survey, fitted) ? 'jumper' : 'part',
  };
}

/** Only the resistor at the end of a loop is; where nobody looked it is a part. */
function isSetByJumper(survey: Survey, { role, zone }: FittedResistor): boolean {
  const loop = [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)?.loop;
  const at = loop?.resistorAt;
  return role === 'end-of-line' && typeof at === 'object' && at?.by === 'jumper';
}

/** Contacts that close on alarm leave the end resistor alone across the loop. */
function endsAcross(survey: Survey, wiring: Wiring, zone: string): boolean {
  const style = [...survey.zones, ...survey.tampers].find((one) => one.id === zone)?.loop.style;
  const closesOnAlarm = wiring.contacts.some((one) => one.zone === zone && one.sense === 'normally-open');
  return style === 'across' || (style === 'two-resistor' && closesOnAlarm);
}

const isPanelNode = (node: string) => node.startsWith('old:') || node.startsWith('join:');

function drawContact(survey: Survey, fitted: FittedContact, random: Random): Contact {
  const { detector, purpose, a, b } = fitted;
  const own = random.stream(`${detector}.${purpose}`);
  const device = survey.detectors.find(({ id }) => id === detector);
  const powered =
    purpose === 'alarm' &&
    device !== undefined &&
    typeof device.supply === 'object' &&
    device.supply !== null;
  const range = powered ? RELAY_CLOSED_OHMS : MECHANICAL_CLOSED_OHMS;
  const sense =
    fitted.sense === 'unknown' || (purpose === 'alarm' && device?.contact === 'unknown')
      ? own.next() < 0.9
        ? 'normally-closed'
        : 'normally-open'
      : fitted.sense;
  return {
    detector,
    purpose,
    sense,
    a,
    b,
    // Few contacts come near the bound: most are good.
    closedOhms: Math.max(0.02, range.max * own.next() ** 2),
    unpowered: powered ? dropped(device, sense, own) : null,
    stuck: null,
  };
}

/** Most relays let go towards alarm when the supply fails. */
function dropped(device: Detector, sense: Contact['sense'], random: Random): 'open' | 'closed' {
  if (device.unpowered !== 'unknown') return device.unpowered;
  const [usual, rare] =
    sense === 'normally-closed' ? (['open', 'closed'] as const) : (['closed', 'open'] as const);
  return random.next() < 0.9 ? usual : rare;
}

/** What a device truly draws, in A: a share of what its maker states, drawn by chance of its own. */
export function drawLoad(survey: Survey, fitted: FittedLoad, random: Random): Load {
  const own = random.stream(fitted.device);
  const { standbyAmps, alarmAmps, minimumVolts } = statedSupply(survey, fitted.device);
  const share = own.between(...TRUE_SHARE_OF_STATED);
  return {
    ...fitted,
    standbyAmps: standbyAmps * share,
    alarmAmps: alarmAmps * share,
    minimumVolts: minimumVolts * DROP_OUT_SHARE,
    idleOhms: own.between(...IDLE_OHMS),
  };
}

function statedSupply(survey: Survey, device: string) {
  const supply = survey.detectors.find(({ id }) => id === device)?.supply;
  if (typeof supply === 'object' && supply !== null) return supply;
  const sounder = survey.sounders.find(({ id }) => id === device);
  if (sounder !== undefined) {
    const amps = sounder.currentAmps ?? 0.3;
    return { standbyAmps: amps, alarmAmps: amps, minimumVolts: sounder.minimumVolts };
  }
  // A keypad: from memory.
  return { standbyAmps: 0.05, alarmAmps: 0.08, minimumVolts: 9 };
}
