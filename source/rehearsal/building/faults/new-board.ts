import type { Building, Source } from '../building.ts';
import { landingAt } from '../places.ts';
import type { Random } from '../random.ts';
import { type Fault, movedContacts, type Placed, type Scene, zoneOf } from './fault.ts';

/** A source of a new board made different, and a good one put in its place. */
function exchangedSource(
  building: Building,
  scene: Scene,
  random: Random,
  prefix: 'adapter' | 'board-battery',
  says: string,
  wrong: (source: Source, building: Building) => Building,
): Placed | null {
  const fitted = scene.boards.filter(({ id }) => building.sources.has(`${prefix}:${id}`));
  if (fitted.length === 0) return null;
  const { id } = random.pick(fitted);
  const good = building.sources.get(`${prefix}:${id}`)!;
  const rails = building.rails.filter(({ fedBy }) => fedBy.some(({ source }) => source === good.name));
  return {
    building: wrong(good, building),
    about: [id, good.name],
    mend: {
      by: 'hand',
      says,
      to: (now) => ({
        ...now,
        sources: new Map(now.sources).set(good.name, {
          ...good,
          connected: now.sources.get(good.name)!.connected,
        }),
        rails: now.rails.map((rail) => rails.find((one) => one.id === rail.id) ?? rail),
      }),
    },
  };
}

const withSource = (building: Building, source: Source): Building => ({
  ...building,
  sources: new Map(building.sources).set(source.name, source),
});

/** Rails follow what feeds them. */
const withFeed = (
  building: Building,
  name: string,
  volts: (before: number) => number,
  innerOhms: number,
): Building => ({
  ...building,
  rails: building.rails.map((rail) => ({
    ...rail,
    fedBy: rail.fedBy.map((feed) =>
      feed.source === name && !rail.id.endsWith(':inputs')
        ? { source: name, volts: volts(feed.volts), innerOhms }
        : feed,
    ),
  })),
});

export const NEW_BOARD_FAULTS: readonly Fault[] = [
  {
    name: 'adapter-gives-ac',
    says: 'The adapter in the box gives alternating current.',
    harms: true,
    place: (building, scene, random) =>
      exchangedSource(building, scene, random, 'adapter', 'a DC adapter was bought', (source, now) =>
        withSource(now, { ...source, mode: 'ac' }),
      ),
  },
  {
    name: 'adapter-reversed',
    says: 'The plug of the adapter has its polarity reversed.',
    harms: true,
    place: (building, scene, random) =>
      exchangedSource(building, scene, random, 'adapter', 'the adapter was exchanged', (source, now) =>
        withSource(now, { ...source, volts: -source.volts }),
      ),
  },
  {
    name: 'adapter-voltage-differs',
    says: 'The adapter gives far more voltage than the board takes.',
    harms: true,
    place: (building, scene, random) =>
      exchangedSource(building, scene, random, 'adapter', 'the right adapter was brought', (source, now) =>
        withSource(now, { ...source, volts: source.volts * random.between(1.5, 2) }),
      ),
  },
  {
    name: 'weak-battery',
    says: "The new board's battery does not hold its voltage under load.",
    harms: false,
    place: (building, scene, random) =>
      exchangedSource(building, scene, random, 'board-battery', 'a fresh battery was fitted', (source, now) =>
        withFeed(
          withSource(now, { ...source, volts: 11.6, innerOhms: 25 }),
          source.name,
          (before) => before - (source.volts - random.between(9, 10)),
          25,
        ),
      ),
  },
  {
    name: 'wrong-input',
    says: "Two conductors are landed on one another's inputs.",
    harms: false,
    place: (building, scene, random) => {
      const board = random.pick(scene.boards);
      const [first, second] = random.shuffled(board.inputs);
      if (first === undefined || second === undefined) return null;
      const [a, b] = [`${board.id}:${first.terminal}`, `${board.id}:${second.terminal}`];
      return {
        building: { ...building, slips: [...building.slips, { meant: a, goes: b }, { meant: b, goes: a }] },
        about: [board.id, `${board.id}/${first.id}`, `${board.id}/${second.id}`],
        mend: {
          by: 'hand',
          says: `what sat on ${a} and ${b} was exchanged`,
          to: (now) => putRight(now, [a, b]),
        },
      };
    },
  },
  {
    name: 'common-loose',
    says: 'A conductor at a common was not held by its screw.',
    harms: false,
    place: (building, scene, random) => {
      const board = random.pick(scene.boards);
      const at = `${board.id}:${random.pick(board.inputs).common}`;
      return {
        building: { ...building, slips: [...building.slips, { meant: at, goes: 'loose' }] },
        about: [board.id, at],
        mend: {
          by: 'hand',
          says: `the screw of ${at} was tightened on its conductor`,
          to: (now) => putRight(now, [at]),
        },
      };
    },
  },
  {
    name: 'aux-reversed',
    says: 'Positive and negative are swapped at a powered detector.',
    harms: false,
    place: (building, scene, random) => {
      const powered = movedContacts(building, scene).filter(({ detector }) =>
        building.loads.some(({ device }) => device === detector),
      );
      if (powered.length === 0) return null;
      const { detector } = random.pick(powered);
      const swap = (now: Building): Building => ({
        ...now,
        loads: now.loads.map((load) =>
          load.device === detector ? { ...load, positive: load.negative, negative: load.positive } : load,
        ),
      });
      return {
        building: swap(building),
        about: [zoneOf(scene, detector), detector],
        mend: { by: 'hand', says: `the supply of ${detector} was put the right way round`, to: swap },
      };
    },
  },
  {
    name: 'sounder-overload',
    says: 'A sounder draws far more than its output gives.',
    harms: false,
    place: (building, { survey }, random) => {
      const fitted = building.loads.filter(({ device }) => survey.sounders.some(({ id }) => id === device));
      if (fitted.length === 0) return null;
      const load = random.pick(fitted);
      const set = (now: Building, amps: number): Building => ({
        ...now,
        loads: now.loads.map((one) =>
          one.device === load.device ? { ...one, standbyAmps: amps, alarmAmps: amps } : one,
        ),
      });
      return {
        building: set(building, random.between(2, 4)),
        about: [load.device],
        mend: {
          by: 'hand',
          says: `${load.device} was exchanged for one that fits`,
          to: (now) => set(now, load.standbyAmps),
        },
      };
    },
  },
];

/** What the hand put elsewhere goes where it was meant. */
function putRight(now: Building, terminals: readonly string[]): Building {
  const wires = new Map(now.wires);
  for (const { conductor, meant } of now.slipped) {
    const wire = wires.get(conductor);
    if (wire !== undefined && terminals.includes(meant))
      wires.set(conductor, { ...wire, near: landingAt(now, meant) });
  }
  return {
    ...now,
    wires,
    slips: now.slips.filter(({ meant }) => !terminals.includes(meant)),
    slipped: now.slipped.filter(({ meant }) => !terminals.includes(meant)),
  };
}
