import type { Cause } from '../../../electrical/causes.ts';
import type { Board } from '../../../site/board.ts';
import type { Change } from '../../../site/correct-survey.ts';
import { isLifeSafety, type Survey } from '../../../site/survey.ts';
import type { Wiring } from '../../../wiring/wiring.ts';
import type { Building, Contact, Wire } from '../building.ts';
import type { Random } from '../random.ts';

/** What a fault is placed in: the building as drawn, and the papers it was drawn from. */
export type Scene = { readonly survey: Survey; readonly wiring: Wiring; readonly boards: readonly Board[] };

/** Something that is wrong in a building. It changes the building and nothing else. */
export type Fault = {
  readonly name: Cause;
  readonly says: string;
  /** True where it can hurt a person or destroy a board. */
  readonly harms: boolean;
  /** Where it is put, by chance; null where this building has no place for it. */
  readonly place: (building: Building, scene: Scene, random: Random) => Placed | null;
};

/** A fault in its place, and what a person who goes and looks finds and does about it. */
export type Placed = {
  readonly building: Building;
  /** Ids it touches: zone, detector, conductors, board. */
  readonly about: readonly string[];
  readonly mend: Mend;
};

/**
 * Put right by hand, in the building as it is by then; or the survey was wrong and is corrected: then `to` is the
 * building as the survey has it, to lay beside this one, and `hands` what is put right there all the same.
 */
export type Mend =
  | { readonly by: 'hand'; readonly says: string; readonly to: (now: Building) => Building }
  | {
      readonly by: 'survey';
      readonly says: string;
      readonly to: (now: Building) => Building;
      readonly hands?: (now: Building) => Building;
      readonly set: readonly Change[];
      /** In words, where it is more than one field. */
      readonly told?: string;
    };

/** The building once somebody put right what hands can. */
export function mended(now: Building, mend: Mend): Building {
  if (mend.by === 'hand') return mend.to(now);
  return mend.hands?.(now) ?? now;
}

/** Alarm contacts of the survey's detectors that are to be moved: nothing of life safety. */
export function movedContacts(building: Building, { survey }: Scene): Contact[] {
  const moved = new Set(survey.detectors.filter(({ kind }) => !isLifeSafety(kind)).map(({ id }) => id));
  return building.contacts.filter(({ detector, purpose }) => purpose === 'alarm' && moved.has(detector));
}

/** The zone a detector's contact lies in. */
export function zoneOf({ survey }: Scene, detector: string): string {
  return survey.zones.find(({ detectors }) => detectors.includes(detector))?.id ?? '';
}

/** A zone with all that lies on it: its detectors and their conductors. */
export function aboutZone({ survey, wiring }: Scene, zone: string): string[] {
  const detectors = survey.zones.find(({ id }) => id === zone)?.detectors ?? [];
  const conductors = wiring.conductors.filter((one) => one.zone === zone);
  return [zone, ...detectors, ...conductors.map(({ id }) => id)];
}

/** The two loop conductors of the cable that runs to a detector, where it has a pair. */
export function pairTo(building: Building, { survey, wiring }: Scene, detector: string): [Wire, Wire] | null {
  const cable = survey.detectors.find(({ id }) => id === detector)?.cable;
  const cores = wiring.conductors.filter(
    (one) => one.cable === cable && (one.use === 'loop' || one.use === 'common'),
  );
  // A thick cable carries the pairs of others too.
  const own = cores.filter((one) => one.for === detector);
  const [first, second] = own.length >= 2 ? own : cores;
  if (first === undefined || second === undefined) return null;
  return [building.wires.get(first.id)!, building.wires.get(second.id)!];
}

/** The building with this contact in place of the one that its detector had for the same purpose. */
export function withContact(building: Building, changed: Contact): Building {
  const contacts = building.contacts.map((one) =>
    one.detector === changed.detector && one.purpose === changed.purpose ? changed : one,
  );
  return { ...building, contacts };
}
