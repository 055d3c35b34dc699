import type { Board } from '../../site/board.ts';
import type { Detector, DetectorKind, Survey, TamperLoop, Zone } from '../../site/survey.ts';
import { contactSense } from '../../site/worth.ts';
import type { LifeSafety } from '../life-safety.ts';
import { conductorsFrom, type Field } from '../loops/field.ts';

/** What cannot be divided between inputs: a single detector, a set joined in the field, or a tamper loop. */
export type Unit = {
  /** Detector ids; empty for a tamper loop, which is known by its zone. */
  readonly detectors: readonly string[];
  readonly zone: string;
  readonly purpose: 'detection' | 'tamper';
  /** In detectors; a tamper loop counts as one. */
  readonly size: number;
  /** Sum of the importance of its detectors. */
  readonly importance: number;
  /** One bit for each of entry, perimeter, interior, outside. */
  readonly places: number;
  /** Units share an input only where this is equal. */
  readonly company: string;
  /** Return cores that others use as well. */
  readonly returns: readonly string[];
  /** `board/input`, where one was asked for. */
  readonly asked: string | null;
  /** Place in the zone's chain: neighbours are joined at the panel today. */
  readonly position: number;
};

const PLACES = ['entry', 'perimeter', 'interior', 'outside'] as const;
/** These report a condition of their own round the clock, so they share only with their own kind. */
const OWN_KIND: ReadonlySet<DetectorKind> = new Set(['flood', 'temperature', 'technical', 'keyswitch']);

/** The units of a site in survey order: zones as listed, within them detectors as listed, then tamper loops. */
export function computeUnits(
  survey: Survey,
  lifeSafety: LifeSafety,
  field: Field,
  boards: readonly Board[],
): Unit[] {
  const detectors = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  const zones = survey.zones.filter((zone) => !lifeSafety.zones.has(zone.id));
  // A loop through the lid of the panel alone has no cable: it goes with the panel.
  const tampers = survey.tampers
    .filter((loop) => loop.keep === 'yes' && !lifeSafety.zones.has(loop.id))
    .filter(({ id }) => field.conductorsOf(id).length > 0)
    .filter((loop) => !returnsOverSwitched(loop, field, boards));
  return [
    ...zones.flatMap((zone) => unitsOfZone(zone, detectors, field)),
    ...tampers.map(({ id }) => tamperUnit(id)),
  ];
}

/**
 * A tamper loop that comes back over a sounder's negative cannot be read where the board switches that negative: the
 * core belongs on the output, and on a common it would leave the sounder sounding.
 */
export function returnsOverSwitched(
  { id, keep }: Pick<TamperLoop, 'id' | 'keep'>,
  field: Field,
  boards: readonly Board[],
): boolean {
  if (keep !== 'yes' || !boards.some(({ sounder }) => sounder?.sense.startsWith('negative'))) return false;
  const posts = field.contactsOf(id).flatMap(({ a, b }) => [a, b]);
  return posts.some((post) =>
    (field.conductorsAt.get(post) ?? []).some(({ use }) => use === 'sounder-negative'),
  );
}

function unitsOfZone(zone: Zone, detectors: ReadonlyMap<string, Detector>, field: Field): Unit[] {
  const sets: (readonly string[])[] = [];
  for (const id of zone.detectors) {
    if (sets.some((set) => set.includes(id))) continue;
    const inField =
      zone.joined === 'field' && zone.fieldSets.length === 0
        ? zone.detectors
        : zone.fieldSets.find((set) => set.includes(id));
    sets.push(inField ?? [id]);
  }
  return sets.map((set, position) => {
    const members = set.map((id) => detectors.get(id)!);
    const company = [...new Set(members.map((member) => companyOf(member, zone)))].sort();
    return {
      detectors: set,
      zone: zone.id,
      purpose: 'detection',
      size: set.length,
      importance: members.reduce((sum, member) => sum + member.importance, 0),
      places: members.reduce((bits, member) => bits | (1 << PLACES.indexOf(member.place)), 0),
      // What is unlike within a set joined in the field cannot be mended, but nothing is added to it.
      company: company.length > 1 ? `alone:${set[0]}` : company[0]!,
      returns: returnsOf(field, zone.id, set),
      asked: members.find((member) => member.input !== null)?.input ?? null,
      position,
    };
  });
}

function returnsOf(field: Field, zone: string, detectors: readonly string[]): string[] {
  const contacts = field
    .contactsOf(zone)
    .filter(({ detector, purpose }) => purpose === 'alarm' && detectors.includes(detector));
  const conductors = contacts.flatMap(({ a, b }) => [a, b].flatMap((post) => conductorsFrom(field, post)));
  return [...new Set(conductors.filter(({ use }) => use === 'common').map(({ id }) => id))];
}

function companyOf(detector: Detector, zone: Zone): string {
  if (detector.kind === 'panic') return `alone:${detector.id}`;
  return `${contactSense(detector, zone)}:${OWN_KIND.has(detector.kind) ? detector.kind : 'intruder'}`;
}

function tamperUnit(id: string): Unit {
  return {
    detectors: [],
    zone: id,
    purpose: 'tamper',
    size: 1,
    importance: 1,
    places: 0,
    company: 'normally-closed:tamper',
    returns: [],
    asked: null,
    position: 0,
  };
}
