import type { Building, Source } from '../building.ts';
import { inducedOn } from '../draw-building.ts';
import type { Random } from '../random.ts';
import { type Fault, movedContacts, type Placed, pairTo, type Scene, zoneOf } from './fault.ts';

const withSource = (building: Building, source: Source): Building => ({
  ...building,
  sources: new Map(building.sources).set(source.name, source),
});

/** A source nobody knows of. No act of a procedure reaches it: it has to be found. */
function strange(
  name: string,
  mode: 'dc' | 'ac',
  volts: number,
  innerOhms: number,
  joins: readonly [string, string],
): Source {
  return {
    name,
    mode,
    volts,
    innerOhms,
    plus: `${name}+`,
    minus: `${name}-`,
    joins,
    connected: true,
    induced: false,
    feedsBoard: null,
  };
}

function found(building: Building, source: Source, about: readonly string[], says: string): Placed {
  return {
    building: withSource(building, source),
    about,
    mend: { by: 'hand', says, to: (now) => withSource(now, { ...source, connected: false }) },
  };
}

/** A conductor that comes back to the panel: what stands behind an open contact out in a chain shows at no screw. */
function someConductor(building: Building, scene: Scene, random: Random) {
  const atPanel = new Set(scene.wiring.conductors.flatMap((one) => (one.atPanel ? [one.id] : [])));
  const pairs = movedContacts(building, scene).flatMap(({ detector }) => {
    const pair = pairTo(building, scene, detector);
    if (pair === null || !atPanel.has(pair[0].id)) return [];
    return [{ zone: zoneOf(scene, detector), detector, pair }];
  });
  return pairs.length === 0 ? null : random.pick(pairs);
}

export const SOURCE_FAULTS: readonly Fault[] = [
  {
    name: 'battery-connected',
    says: 'A second standby battery, out of sight, still holds the old panel up after everything known is off.',
    harms: true,
    place: (building, _scene, random) => {
      const name = 'hidden-battery';
      const volts = random.between(12, 12.8);
      const feed = { source: name, volts, innerOhms: 0.1 };
      const rails = building.rails.map((rail) =>
        rail.id === 'panel:aux' ? { ...rail, fedBy: [...rail.fedBy, feed] } : rail,
      );
      const source = strange(name, 'dc', volts, 0.05, ['hidden-battery:lead+', 'hidden-battery:lead-']);
      return found({ ...building, rails }, source, ['panel'], 'a second battery was found and taken off');
    },
  },
  {
    name: 'sounder-feeds-back',
    says: "The sounder's own battery feeds back into its cable.",
    harms: true,
    place: (building, { survey }, random) => {
      const fitted = building.loads.filter(({ device }) => survey.sounders.some(({ id }) => id === device));
      if (fitted.length === 0) return null;
      const { device, positive, negative } = random.pick(fitted);
      const source = strange(`back-feed:${device}`, 'dc', random.between(11.8, 12.9), 40, [
        positive,
        negative,
      ]);
      return found(building, source, [device], `the battery inside ${device} was taken off`);
    },
  },
  {
    name: 'ringing-voltage',
    says: 'A telephone line is still connected, and its ringing voltage stands on a pair.',
    harms: true,
    place: (building, scene, random) => {
      const line = scene.wiring.conductors.filter(({ use }) => use === 'telephone');
      const other = someConductor(building, scene, random);
      const node = line[0]?.near ?? other?.pair[0].far;
      if (node === undefined) return null;
      const about = line[0] === undefined ? [other!.zone, other!.pair[0].id] : [line[0].id];
      const source = strange('ringing', 'ac', random.between(70, 90), 1500, [node, 'earth']);
      return found(building, source, about, 'a second telephone line was found and taken off');
    },
  },
  {
    name: 'foreign-voltage',
    says: 'Another system puts 24 V on a conductor.',
    harms: true,
    place: (building, scene, random) => {
      const on = someConductor(building, scene, random);
      if (on === null) return null;
      const [first] = on.pair;
      const volts = 24 * random.between(0.95, 1.05);
      const source = strange('foreign', 'dc', volts, 5, [first.far, 'earth']);
      return found(
        building,
        source,
        [on.zone, on.detector, first.id],
        'the other system was found and taken off',
      );
    },
  },
  {
    name: 'induced-voltage',
    says: 'A cable runs beside mains and picks up a voltage that no load can draw on.',
    harms: false,
    place: (building, scene, random) => {
      const on = someConductor(building, scene, random);
      if (on === null) return null;
      const source = inducedOn(on.pair[0].far, random.between(8, 40), random.between(1e6, 3e6));
      const gone = (now: Building): Building => ({
        ...now,
        sources: new Map([...now.sources].filter(([name]) => name !== source.name)),
      });
      return {
        building: withSource(building, source),
        about: [on.zone, on.detector, on.pair[0].id],
        mend: { by: 'hand', says: 'the cable was moved away from the mains cable', to: gone },
      };
    },
  },
];
