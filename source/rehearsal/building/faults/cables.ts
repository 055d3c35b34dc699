import { parseConductor } from '../../../electrical/conductor.ts';
import { formatQuantity } from '../../../electrical/quantity.ts';
import type { Building, Wire } from '../building.ts';
import { withWire } from '../places.ts';
import type { Random } from '../random.ts';
import { type Fault, movedContacts, type Placed, pairTo, type Scene, zoneOf } from './fault.ts';

type Run = {
  readonly detector: string;
  readonly zone: string;
  readonly cable: string;
  readonly pair: [Wire, Wire];
};

/** A cable that runs to a detector that is to be moved. */
function someRun(building: Building, scene: Scene, random: Random): Run | null {
  const runs = movedContacts(building, scene).flatMap(({ detector }) => {
    const pair = pairTo(building, scene, detector);
    return pair === null ? [] : [{ detector, zone: zoneOf(scene, detector), cable: pair[0].cable, pair }];
  });
  return runs.length === 0 ? null : random.pick(runs);
}

const aboutRun = ({ zone, detector, cable, pair }: Run) => [
  zone,
  detector,
  cable,
  ...pair.map(({ id }) => id),
];

const editWire = (now: Building, id: string, edit: (wire: Wire) => Wire): Building =>
  withWire(now, edit(now.wires.get(id)!));

/** A fault of one wire, undone by the edit that takes it back. */
function onWire(
  building: Building,
  run: Run,
  says: string,
  edit: (wire: Wire) => Wire,
  back: (wire: Wire) => Wire,
): Placed {
  const { id } = run.pair[0];
  return {
    building: editWire(building, id, edit),
    about: aboutRun(run),
    mend: { by: 'hand', says, to: (now) => editWire(now, id, back) },
  };
}

/** Something that conducts between the two conductors of a pair, at the detector's end. */
function betweenPair(building: Building, run: Run, name: string, ohms: number, says: string): Placed {
  const id = `${name}:${run.cable}`;
  const [a, b] = run.pair;
  return {
    building: { ...building, bridges: new Map(building.bridges).set(id, { id, a: a.far, b: b.far, ohms }) },
    about: aboutRun(run),
    mend: {
      by: 'hand',
      says,
      to: (now) => ({ ...now, bridges: new Map([...now.bridges].filter(([key]) => key !== id)) }),
    },
  };
}

/** All cores of a cable multiplied, as a wrong length or a wrong conductor does; the survey was wrong. */
function wholeCable(
  building: Building,
  run: Run,
  factor: number,
  says: string,
  set: { path: string; value: string }[],
): Placed {
  const times = (now: Building, by: number): Building => {
    const wires = [...now.wires].map(
      ([id, wire]) => [id, wire.cable === run.cable ? { ...wire, ohms: wire.ohms * by } : wire] as const,
    );
    return { ...now, wires: new Map(wires) };
  };
  return {
    building: times(building, factor),
    about: aboutRun(run),
    mend: { by: 'survey', says, set, to: (now) => times(now, 1 / factor) },
  };
}

export const CABLE_FAULTS: readonly Fault[] = [
  {
    name: 'cable-cut',
    says: 'One conductor of a cable is cut in the wall.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      if (run === null) return null;
      const cut = (broken: boolean) => (wire: Wire) => ({ ...wire, broken });
      return onWire(building, run, `the break in ${run.cable} was spliced`, cut(true), cut(false));
    },
  },
  {
    name: 'cable-shorted',
    says: 'The two conductors of a loop touch in the wall.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      if (run === null) return null;
      return betweenPair(
        building,
        run,
        'short',
        random.between(0.05, 0.5),
        `the short in ${run.cable} was cleared`,
      );
    },
  },
  {
    name: 'damp-cable',
    says: 'Damp lets current leak between the conductors of a cable.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      if (run === null) return null;
      const ohms = 10 ** random.between(4.2, 5.8);
      return betweenPair(building, run, 'damp', ohms, `the damp joint of ${run.cable} was made again, dry`);
    },
  },
  {
    name: 'corroded-splice',
    says: 'A corroded splice adds resistance to a loop.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      if (run === null) return null;
      const extra = random.between(20, 90);
      const add = (more: number) => (wire: Wire) => ({ ...wire, ohms: wire.ohms + more });
      return onWire(building, run, `the splice of ${run.cable} was made again`, add(extra), add(-extra));
    },
  },
  {
    name: 'length-differs',
    says: 'A cable is a good deal longer than the survey says.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      const cable = scene.survey.cables.find(({ id }) => id === run?.cable);
      if (run === null || cable === undefined) return null;
      const factor = random.between(3, 6);
      const metres = Math.round(cable.lengthMetres * factor);
      return wholeCable(building, run, factor, `${cable.id} is about ${metres} m long`, [
        { path: `cables.${cable.id}.length`, value: formatQuantity(metres, 'metres') },
      ]);
    },
  },
  {
    name: 'conductor-differs',
    says: 'A cable has thinner conductors than the survey says.',
    harms: false,
    place: (building, scene, random) => {
      const run = someRun(building, scene, random);
      const cable = scene.survey.cables.find(({ id }) => id === run?.cable);
      // Four to six sizes finer: nobody takes a hair for a bell wire.
      const size = cable !== undefined && cable.conductor.areaSquareMillimetres > 0.4 ? '24 AWG' : '28 AWG';
      const thin = parseConductor(size);
      if (run === null || cable === undefined || !thin.ok) return null;
      const factor = cable.conductor.areaSquareMillimetres / thin.value.areaSquareMillimetres;
      return wholeCable(building, run, factor, `the conductors of ${cable.id} are ${size}`, [
        { path: `cables.${cable.id}.conductor`, value: size },
      ]);
    },
  },
  {
    name: 'under-voltage',
    says: 'A bad joint in a supply core leaves a powered detector too little voltage.',
    harms: false,
    place: (building, scene, random) => {
      const powered = movedContacts(building, scene).flatMap(({ detector }) => {
        const load = building.loads.find(({ device }) => device === detector);
        const wire = [...building.wires.values()].find(({ far }) => far === load?.positive);
        return load === undefined || wire === undefined ? [] : [{ detector, load, wire }];
      });
      if (powered.length === 0) return null;
      const { detector, load, wire } = random.pick(powered);
      const extra = random.between(5, 9) / load.standbyAmps;
      const add = (more: number) => (one: Wire) => ({ ...one, ohms: one.ohms + more });
      return {
        building: editWire(building, wire.id, add(extra)),
        about: [zoneOf(scene, detector), detector, wire.cable, wire.id],
        mend: {
          by: 'hand',
          says: `the supply joint of ${wire.cable} was made again`,
          to: (now) => editWire(now, wire.id, add(-extra)),
        },
      };
    },
  },
];
