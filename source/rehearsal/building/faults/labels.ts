import type { Building, Wire } from '../building.ts';
import { withWire } from '../places.ts';
import { type Fault, movedContacts, type Placed, pairTo, type Scene, zoneOf } from './fault.ts';

/** Pairs that come back to the panel, with the detector at their far end; each once, and none of doubled cores. */
function pairsAtPanel(building: Building, scene: Scene) {
  const known = new Set<string>();
  return movedContacts(building, scene).flatMap(({ detector }) => {
    const pair = pairTo(building, scene, detector);
    const wired = scene.wiring.conductors.filter(({ id }) => pair?.some((wire) => wire.id === id));
    if (pair === null || known.has(pair[0].id) || wired.some(({ atPanel }) => !atPanel)) return [];
    known.add(pair[0].id);
    const isDoubled = scene.wiring.conductors.some(
      ({ cable, use }) => cable === pair[0].cable && use === 'doubled',
    );
    return isDoubled ? [] : [{ detector, zone: zoneOf(scene, detector), pair }];
  });
}

/** What is called by one name truly is the other, from end to end. */
function exchange(building: Building, one: Wire, other: Wire): Building {
  const [a, b] = [building.wires.get(one.id)!, building.wires.get(other.id)!];
  const made = withWire(building, { ...a, far: b.far, ohms: b.ohms, broken: b.broken });
  return withWire(made, { ...b, far: a.far, ohms: a.ohms, broken: a.broken });
}

type Ends = ReturnType<typeof pairsAtPanel>[number];

function exchanged(building: Building, a: Ends, b: Ends, says: string): Placed {
  const swap = (now: Building) => exchange(exchange(now, a.pair[0], b.pair[0]), a.pair[1], b.pair[1]);
  return {
    building: swap(building),
    about: [a.zone, b.zone, a.detector, b.detector, ...[...a.pair, ...b.pair].map(({ id }) => id)],
    mend: { by: 'hand', says, to: swap },
  };
}

export const LABEL_FAULTS: readonly Fault[] = [
  {
    name: 'other-pair',
    says: 'The pairs of two zones are taken for one another.',
    harms: false,
    place: (building, scene, random) => {
      const pairs = random.shuffled(pairsAtPanel(building, scene));
      const [first] = pairs;
      const second = pairs.find(({ zone }) => zone !== first?.zone);
      if (first === undefined || second === undefined) return null;
      return exchanged(
        building,
        first,
        second,
        `the labels of ${first.detector} and ${second.detector} were exchanged`,
      );
    },
  },
  {
    name: 'joined-other-way',
    says: 'Two detectors of one zone are joined the other way round than surveyed.',
    harms: false,
    place: (building, scene, random) => {
      const pairs = random.shuffled(pairsAtPanel(building, scene));
      for (const first of pairs) {
        const second = pairs.find(({ zone, detector }) => zone === first.zone && detector !== first.detector);
        if (second === undefined) continue;
        return exchanged(
          building,
          first,
          second,
          `the join of ${first.zone} was followed and its labels put right`,
        );
      }
      return null;
    },
  },
];
