import { cableLoopOhms, LENGTH_TOLERANCE } from '../electrical/conductor.ts';
import { type Interval, within } from '../electrical/interval.ts';
import { type ContactSense, MECHANICAL_CLOSED_OHMS, RELAY_CLOSED_OHMS } from '../electrical/loop.ts';
import type { Cable, Detector, Loop, Survey } from './survey.ts';

/** One way, with the doubt that goes with how the length is known. */
export function cableMetres(cable: Cable): Interval {
  return within(cable.lengthMetres, LENGTH_TOLERANCE[cable.lengthKnown]);
}

/** A pair of this cable out and back, at the site's cable temperature, in Ω. */
export function pairOhms(cable: Cable, survey: Pick<Survey, 'conditions'>): Interval {
  return cableLoopOhms(cable.conductor, cableMetres(cable), survey.conditions.cableCelsius);
}

/** One conductor of a cable, one way, in Ω. */
export function oneWayOhms(cable: Cable, survey: Pick<Survey, 'conditions'>): Interval {
  const { min, nominal, max } = pairOhms(cable, survey);
  return { min: min / 2, nominal: nominal / 2, max: max / 2 };
}

/**
 * How a contact stands at rest. A changeover contact offers both, so its loop tells which is in use: contacts
 * in series are normally closed, contacts across the end are normally open.
 */
export function contactSense(
  detector: Detector,
  { loop }: { readonly loop: Loop },
): ContactSense | 'unknown' {
  if (detector.contact === 'normally-closed' || detector.contact === 'normally-open') return detector.contact;
  if (loop.style === 'across') return 'normally-open';
  if (detector.contact === 'changeover' && loop.style !== 'mixed') return 'normally-closed';
  return detector.contact === 'changeover' ? 'unknown' : senseOfStyle(loop);
}

function senseOfStyle({ style }: Loop): ContactSense | 'unknown' {
  const closedAtRest = style === 'plain' || style === 'series' || style === 'bridged';
  return closedAtRest ? 'normally-closed' : 'unknown';
}

/** What a contact of a device is to a meter: its resistance while closed, and how it stands without supply. */
export function contactWorth(
  detector: Detector | undefined,
  purpose: 'alarm' | 'tamper',
): { readonly closed: Interval; readonly unpowered: Detector['unpowered'] | null } {
  const needsSupply =
    purpose === 'alarm' &&
    detector !== undefined &&
    detector.supply !== null &&
    detector.supply !== 'from-loop';
  return needsSupply
    ? { closed: RELAY_CLOSED_OHMS, unpowered: detector.unpowered }
    : { closed: MECHANICAL_CLOSED_OHMS, unpowered: null };
}
