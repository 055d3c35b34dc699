import type { Change, ChangeValue } from './correct-survey.ts';
import { liesAcross } from './runs.ts';
import type { Survey, Zone } from './survey.ts';

/** A contact that no paper shows, found on a zone: it needs no supply. */
export type FoundContact = {
  /** The detector that it hangs beside: behind its terminals, in a row with it or across the loop as it is. */
  readonly beside: string;
  readonly name: string;
  /** A kind of the survey: one that is none is refused when the changes are made. */
  readonly kind: string;
  /** The cable that goes on to it from the detector; null where it hangs on the detector's own. */
  readonly cable: { readonly length: string; readonly conductor: string } | null;
};

/** The changes that are made all at once, and the ids that the contact and its cable get by them. */
export type Learned = {
  readonly changes: readonly Change[];
  readonly id: string | null;
  readonly cable: string | null;
};

/**
 * What a survey is to be changed by so that it knows a contact that was found. Both report as one, for they come to the
 * panel over one pair. Where each contact of the zone has a resistor of its own it is a part of the other: its name says so.
 */
export function learnContact(survey: Survey, { beside, name, kind, cable }: FoundContact): Learned {
  const zone = survey.zones.find(({ detectors }) => detectors.includes(beside));
  const host = survey.detectors.find(({ id }) => id === beside);
  if (zone === undefined || host === undefined || OWN_RESISTOR.has(zone.loop.style)) {
    const both = `${(host?.name ?? beside).slice(0, 36)}, and ${name.slice(0, 36)}`;
    return { changes: [{ path: `detectors.${beside}.name`, value: both }], id: null, cable: null };
  }
  const devices = [...survey.detectors, ...survey.sounders, ...survey.keypads];
  const id = free('found', [...devices, ...survey.zones, ...survey.tampers]);
  const own = cable && free('found-cable', [...survey.cables, ...survey.boards]);
  const across = liesAcross(zone.loop.style, host.contact);
  const changes: readonly Change[] = [
    ...(own === null
      ? []
      : [
          {
            path: `cables.${own}`,
            value: { ...cable, from: host.cable, cores: [{ use: 'loop' }, { use: 'loop' }] },
          },
        ]),
    {
      path: `detectors.${id}`,
      value: {
        name,
        kind,
        contact: across ? 'normally-open' : 'normally-closed',
        place: host.place,
        cable: own ?? host.cable,
        supply: 'none',
      },
    },
    { path: `zones.${zone.id}.detectors.${id}`, value: id },
    { path: `zones.${zone.id}.joined`, value: joinedWith(zone, beside, id) },
    // Where only "at the detector" was written the last one of the zone is meant, and another is the last one now.
    ...(typeof zone.loop.resistorAt === 'object' && zone.loop.resistorAt !== null
      ? [{ path: `zones.${zone.id}.loop.resistorAt`, value: { ...zone.loop.resistorAt } }]
      : []),
  ];
  return { id, cable: own, changes };
}

const OWN_RESISTOR: ReadonlySet<Zone['loop']['style']> = new Set(['bridged', 'two-resistor']);

/** The sets that cannot be parted at the panel, the found one in that of its neighbour. */
function joinedWith(zone: Zone, beside: string, id: string): ChangeValue {
  const known = zone.fieldSets.find((set) => set.includes(beside));
  const sets = [...zone.fieldSets.filter((set) => set !== known), [...(known ?? [beside]), id]];
  return sets[0]!.length === zone.detectors.length + 1 ? 'field' : sets;
}

function free(name: string, taken: readonly { readonly id: string }[]): string {
  const ids = new Set(taken.map(({ id }) => id));
  let number = 1;
  const next = () => (number === 1 ? name : `${name}-${number}`);
  while (ids.has(next())) number += 1;
  return next();
}
