import {
  type ContactSense,
  type Expression,
  MECHANICAL_CLOSED_OHMS,
  RELAY_CLOSED_OHMS,
  RESISTOR_TOLERANCE,
} from '../../electrical/loop.ts';
import type { Cable, Detector, Survey } from '../../site/survey.ts';
import type { FittedContact, FittedResistor, WiredConductor } from '../../site/wiring.ts';
import { contactSense } from '../grouping/units.ts';
import { pairOhms } from '../supply/cable-ohms.ts';
import { isPowered } from '../supply/feeds.ts';

/** End resistors of the trade lie between 1 k and 10 k: common practice, no source. */
const UNKNOWN_RESISTOR = { ohms: 5500, tolerance: 0.82 } as const;

/** What each thing of the wiring is to a meter. */
export type Elements = {
  readonly conductor: (conductor: WiredConductor) => Expression;
  readonly contact: (contact: FittedContact) => Expression;
  readonly resistor: (resistor: FittedResistor) => Expression;
  readonly detectorById: ReadonlyMap<string, Detector>;
};

/** The name by which a contact's state is known: a detector's tamper is not its alarm contact. */
function contactKey({ detector, purpose }: Pick<FittedContact, 'detector' | 'purpose'>): string {
  return purpose === 'tamper' ? `${detector}.tamper` : detector;
}

/** What conductors, contacts and resistors of a survey are worth in a loop, as expressions. */
export function readElements(survey: Survey): Elements {
  const detectorById = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  const zoneById = new Map(survey.zones.map((zone) => [zone.id, zone]));
  const cableById = new Map(survey.cables.map((cable) => [cable.id, cable]));
  const oneWay = new Map<string, Expression>();

  function senseOf({ detector, zone, purpose, sense }: FittedContact): ContactSense | 'unknown' {
    const device = detectorById.get(detector);
    const loop = zoneById.get(zone);
    return purpose === 'alarm' && device && loop ? contactSense(device, loop) : sense;
  }
  return {
    detectorById,
    conductor({ cable }) {
      let expression = oneWay.get(cable);
      if (!expression) {
        expression = { kind: 'cable', id: cable, ohms: halfOf(cableById.get(cable)!, survey) };
        oneWay.set(cable, expression);
      }
      return expression;
    },
    contact(contact) {
      const device = detectorById.get(contact.detector);
      const needsSupply = contact.purpose === 'alarm' && device !== undefined && isPowered(device);
      return {
        kind: 'contact',
        detector: contactKey(contact),
        sense: senseOf(contact),
        closed: needsSupply ? RELAY_CLOSED_OHMS : MECHANICAL_CLOSED_OHMS,
        unpowered: needsSupply ? device.unpowered : null,
      };
    },
    resistor: ({ ohms }) => resistorOf(ohms),
  };
}

/** A resistor with its tolerance, or with everything it may be where nobody knows its value. In Ω. */
export function resistorOf(ohms: number | 'unknown'): Expression {
  return ohms === 'unknown'
    ? { kind: 'resistor', ...UNKNOWN_RESISTOR }
    : { kind: 'resistor', ohms, tolerance: RESISTOR_TOLERANCE };
}

/** One conductor of a cable, one way. */
function halfOf(cable: Cable, survey: Survey) {
  const { min, nominal, max } = pairOhms(cable, survey);
  return { min: min / 2, nominal: nominal / 2, max: max / 2 };
}
