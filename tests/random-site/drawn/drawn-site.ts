import type { Building } from '../../../source/rehearsal/building/building.ts';
import { drawBoards } from '../../../source/rehearsal/building/draw-boards.ts';
import { inducedOn } from '../../../source/rehearsal/building/draw-building.ts';
import { printWritten } from '../../../source/site/print-written.ts';
import { shippedBoard } from '../../random-survey.ts';
import { Drawing, type Drawn, type DrawnOptions, type Fields } from './drawing.ts';
import { DrawnFittings } from './fittings.ts';
import { DrawnLoops } from './loops.ts';
import { drawPanelSide, type Feed } from './panel.ts';

const INPUTS: Record<string, number> = { 'six-paired': 6, 'eight-paired': 8, 'twelve-supervised': 12 };

/**
 * A building that is drawn first, wire by wire, and then written down as a practitioner would find it. Nothing of it is
 * made from the survey: whoever reads the survey wrongly finds another building.
 */
export function drawSite(seed: number, options: DrawnOptions = { unknowns: false }): Drawn {
  const drawing = new Drawing(seed, options);
  const { chance } = drawing;
  for (const role of ['ac', 'ac', 'earth']) drawing.screw(role);
  const loops = new DrawnLoops(drawing);
  const zones = drawing.from(1, 6);
  const lifeSafety = drawing.is(0.2);
  for (let index = 0; index < zones; index++) loops.add(lifeSafety && index === zones - 1);
  const fittings = new DrawnFittings(drawing);
  if (drawing.is(0.3)) fittings.addTamper();
  for (let left = chance.pick([0, 1, 1, 2]); left > 0; left--) fittings.addSounder();
  for (let left = chance.pick([0, 1, 1, 2]); left > 0; left--) fittings.addKeypad();
  const hasLine = drawing.is(0.4);
  if (hasLine) fittings.addLine();
  const feed = chance.pick<Feed>([
    'plug-in-transformer',
    'plug-in-transformer',
    'dc-adapter',
    'hard-wired-transformer',
  ]);
  const enclosure = chance.pick(['metal', 'plastic']);
  const earthed = enclosure === 'metal' && drawing.is(0.5);
  const panel = drawPanelSide(drawing, feed, earthed);
  const boards = pickBoards(drawing);
  const celsius = drawing.from(5, 25);
  const outside = {
    feed,
    signalling: hasLine ? 'telephone' : 'none',
    monitored: 'no',
    set: 'unset',
    lifeSafety: lifeSafety ? 'present' : 'none',
    otherFeeds: 'none',
    sounderBattery: fittings.sounders.some(({ ownBattery }) => ownBattery === 'yes') ? 'yes' : 'no',
  };
  const written: Fields = {
    format: 'loopward/survey@1',
    site: { name: 'A drawn site', reference: `D-${seed}` },
    conditions: { cableTemperature: '20 °C', batteryTemperature: `${celsius} °C` },
    outside,
    panel: {
      feedVoltage: '18 V',
      enclosure,
      earthed: drawing.unknown(0.3) ? 'unknown' : earthed ? 'yes' : 'no',
      batteries: [{ capacity: '7 Ah', chemistry: 'sealed-lead-acid', installed: '2019' }],
      slack: `${drawing.from(16, 30) * 10} mm`,
      terminals: drawing.screws,
    },
    network: { kind: 'wired', backup: 'none' },
    zones: drawing.zones,
    ...(drawing.tampers.length > 0 ? { tampers: drawing.tampers } : {}),
    detectors: drawing.detectors,
    cables: drawing.cableFields(),
    ...(fittings.sounders.length > 0 ? { sounders: fittings.sounders } : {}),
    ...(fittings.keypads.length > 0 ? { keypads: fittings.keypads } : {}),
    boards: boards.map((file, index) => ({ id: `b${index + 1}`, file })),
  };
  return { building: built(drawing, panel, boards), text: printWritten(written), boards };
}

/** As many boards as it takes to give each detector an input, near enough. */
function pickBoards(drawing: Drawing): string[] {
  const need = drawing.detectors.length + drawing.tampers.length;
  const boards: string[] = [];
  let inputs = 0;
  do {
    const file = drawing.chance.pick(Object.keys(INPUTS));
    boards.push(file);
    inputs += INPUTS[file]!;
  } while (inputs < need);
  return boards;
}

function built(
  drawing: Drawing,
  panel: ReturnType<typeof drawPanelSide>,
  names: readonly string[],
): Building {
  const { chance } = drawing;
  const boards = names.map((name, index) => shippedBoard(name, `b${index + 1}`));
  const fresh = drawBoards(boards, chance.stream('boards'));
  const wires = [...drawing.wires.values()];
  const induced = drawing.is(0.2)
    ? [inducedOn(chance.pick(wires).far, chance.between(1, 25), chance.between(1e6, 4e6))]
    : [];
  const sources = [...panel.sources, ...drawing.sources, ...fresh.sources, ...induced];
  return {
    wires: drawing.wires,
    resistors: drawing.resistors,
    contacts: drawing.contacts,
    loads: [...drawing.loads, ...fresh.loads],
    sources: new Map(sources.map((source) => [source.name, source])),
    rails: [...panel.rails, ...fresh.rails],
    bridges: new Map([...drawing.bridges.values(), ...fresh.bridges].map((bridge) => [bridge.id, bridge])),
    outputs: fresh.outputs,
    alarming: new Set(),
    sounders: drawing.sounders,
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
    meter: {
      gain: chance.between(-0.007, 0.007),
      offsetOhms: chance.between(-0.3, 0.3),
      offsetVolts: chance.between(-0.03, 0.03),
    },
    slips: [],
    slipped: [],
    harm: [],
  };
}
