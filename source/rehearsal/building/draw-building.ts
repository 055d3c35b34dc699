import type { Board } from '../../site/board.ts';
import { ownBattery } from '../../site/outside.ts';
import type { Survey } from '../../site/survey.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { Building, Source } from './building.ts';
import { drawBoards } from './draw-boards.ts';
import { drawPanel } from './draw-panel.ts';
import { drawLoad, drawWiring } from './draw-wiring.ts';
import { type Random, seededRandom } from './random.ts';

/**
 * A building in which the survey is true: every figure drawn within its tolerance, the old panel in service,
 * the boards still in their boxes.
 */
export function drawBuilding(
  survey: Survey,
  wiring: Wiring,
  boards: readonly Board[],
  seed: number,
): Building {
  const random = seededRandom(seed, 'building');
  const field = drawWiring(survey, wiring, random);
  const panel = drawPanel(survey, wiring, random.stream('panel'));
  const fresh = drawBoards(boards, random.stream('boards'));
  const induced = drawInduced(survey, wiring, random.stream('induced'));
  const own = drawSounderBatteries(survey, field.loads, random.stream('sounders'));
  const others = drawOtherSupplies(survey, random.stream('supplies'));
  return {
    wires: field.wires,
    resistors: field.resistors,
    contacts: field.contacts,
    loads: [...field.loads, ...others.loads, ...fresh.loads],
    sources: new Map(
      [...panel.sources, ...others.sources, ...fresh.sources, ...induced, ...own].map((source) => [
        source.name,
        source,
      ]),
    ),
    rails: [...panel.rails, ...fresh.rails],
    bridges: new Map([...panel.bridges, ...fresh.bridges.map((bridge) => [bridge.id, bridge] as const)]),
    outputs: fresh.outputs,
    alarming: new Set(),
    sounders: [],
    inputs: boards.flatMap(({ id: board, inputs }) =>
      inputs.map(({ id, terminal, common }) => ({
        board,
        input: id,
        terminal: `${board}:${terminal}`,
        common: `${board}:${common}`,
      })),
    ),
    mounted: new Set(),
    removed: new Set(),
    takenOut: [],
    worked: new Set(),
    // Inside what the meter's maker allows, so that a window that includes it is never missed for it.
    meter: {
      gain: random.between(-0.007, 0.007),
      offsetOhms: random.between(-0.3, 0.3),
      offsetVolts: random.between(-0.03, 0.03),
    },
    slips: [],
    slipped: [],
    harm: [],
  };
}

/** In one building of three a cable runs beside mains, and picks up a voltage that no load can draw on. */
function drawInduced(survey: Survey, wiring: Wiring, random: Random): Source[] {
  if (survey.cables.length === 0 || random.next() >= 1 / 3) return [];
  const { id } = random.pick(survey.cables);
  const conductor = wiring.conductors.find(({ cable }) => cable === id);
  if (conductor === undefined) return [];
  return [inducedOn(conductor.far, random.between(1, 25), random.between(1e6, 4e6))];
}

/** An AC voltage induced on a node: V behind Ω so many that any load takes it away. */
export function inducedOn(node: string, volts: number, ohms: number): Source {
  const name = `induced:${node}`;
  return {
    name,
    mode: 'ac',
    volts,
    innerOhms: ohms,
    plus: node,
    minus: 'earth',
    joins: [node, 'earth'],
    connected: false,
    induced: true,
    feedsBoard: null,
  };
}

/** Power supplies elsewhere in the building, with the detectors that hang on them and on nothing else. */
function drawOtherSupplies(survey: Survey, random: Random) {
  const ends = (id: string) => [`supply:${id}:+`, `supply:${id}:-`] as const;
  const sources = survey.supplies.map(({ id }): Source => {
    const name = `supply:${id}`;
    return {
      name,
      mode: 'dc',
      volts: random.between(12, 13.8),
      innerOhms: 0.2,
      plus: `${name}+`,
      minus: `${name}-`,
      joins: ends(id),
      connected: true,
      induced: false,
      feedsBoard: null,
    };
  });
  const loads = survey.supplies.flatMap(({ id, feeds }) => {
    const [positive, negative] = ends(id);
    return feeds.map((device) => drawLoad(survey, { device, positive, negative }, random.stream(device)));
  });
  return { sources, loads };
}

/** A sounder's own battery sits behind a diode: it shows at the wires only once that has failed. */
function drawSounderBatteries(survey: Survey, loads: Building['loads'], random: Random): Source[] {
  return survey.sounders.flatMap((sounder) => {
    const { id } = sounder;
    const own = ownBattery(sounder, survey);
    const has = own === 'yes' || (own === 'unknown' && random.next() < 0.3);
    const load = loads.find(({ device }) => device === id);
    if (!has || load === undefined) return [];
    const name = `sounder:${id}`;
    return [
      {
        name,
        mode: 'dc',
        volts: random.between(12.2, 12.9),
        innerOhms: 150,
        plus: `${name}+`,
        minus: `${name}-`,
        joins: [load.positive, load.negative],
        connected: false,
        induced: false,
        feedsBoard: null,
      },
    ];
  });
}
