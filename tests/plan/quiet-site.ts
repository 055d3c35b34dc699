import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import type { Board } from '../../source/site/board.ts';
import { applyCorrection, type Change } from '../../source/site/correct-survey.ts';
import { problemToText } from '../../source/site/problem.ts';
import { shippedBoard } from '../random-survey.ts';

/** A rowing shed about which everything is known and nothing is wrong: a plan without a single finding. */
const QUIET_SURVEY = `
format: loopward/survey@1
site: {name: Rowing shed, reference: RS-1}
conditions: {cableTemperature: 20 °C, batteryTemperature: 20 °C}
outside: {feed: dc-adapter, signalling: none, monitored: no, set: unset, lifeSafety: none, otherFeeds: none, sounderBattery: no}
panel:
  feedVoltage: 12 V
  enclosure: plastic
  earthed: no
  slack: 300 mm
  terminals:
    - {number: "1", role: aux-positive}
    - {number: "2", role: aux-negative}
    - {number: "3", role: sounder}
    - {number: "4", role: sounder}
    - {number: "5", role: zone}
    - {number: "6", role: zone}
    - {number: "7", role: zone}
    - {number: "8", role: zone}
    - {number: "9", role: zone}
    - {number: "10", role: zone}
network: {kind: wired, backup: 24 h}
zones:
  - {id: z1, name: Doors, terminals: ["5", "6"], loop: {style: plain}, joined: panel, detectors: [bay, hatch]}
  - {id: z2, name: Crew room, terminals: ["7", "8"], loop: {style: series, resistor: 1k, resistorAt: panel}, detectors: [crew]}
detectors:
  - {id: bay, kind: door-contact, contact: normally-closed, place: entry, cable: c1, importance: 2}
  - {id: hatch, kind: window-contact, contact: normally-closed, place: entry, cable: c2}
  - id: crew
    kind: movement
    contact: normally-closed
    place: interior
    cable: c3
    supply: {standby: 15 mA, alarm: 25 mA, minimum: 9 V, maximum: 15 V, warmUp: 1 min}
    unpowered: open
cables:
  - {id: c1, length: 12 m, measured: yes, conductor: 22 AWG, cores: [{colour: white, use: loop}, {colour: brown, use: loop}]}
  - {id: c2, length: 9 m, measured: yes, conductor: 22 AWG, cores: [{colour: white, use: loop}, {colour: brown, use: loop}]}
  - id: c3
    length: 15 m
    measured: yes
    conductor: 22 AWG
    cores: [{colour: yellow, use: loop}, {colour: blue, use: loop}, {colour: red, use: aux-positive}, {colour: black, use: aux-negative}]
  - {id: c4, length: 6 m, measured: yes, conductor: 18 AWG, cores: [{colour: red, use: sounder-positive}, {colour: black, use: sounder-negative}]}
sounders:
  - {id: horn, cable: c4, current: 200 mA, minimum: 9 V, wiring: two-wire, ownBattery: no, trigger: supply, strobe: none, holdOff: none}
`;

/** The board with eight inputs, made to suit the shed: screws for two, enough current to wet a contact, inputs that bear aux. */
export function quietBoard(id = 'b1'): Board {
  const board = shippedBoard('eight-paired', id);
  return {
    ...board,
    terminals: { ...board.terminals, conductors: 2 },
    sensing: { ...board.sensing, pullUpOhms: 2200, inputMaximumVolts: 15 },
  };
}

export type Disturbance = {
  readonly changes?: readonly Change[];
  readonly board?: (quiet: Board) => Board;
  readonly boards?: readonly Board[];
};

/** The plan of the shed with something changed. */
export function planOfShed({ changes = [], board = (quiet) => quiet, boards }: Disturbance = {}): Plan {
  const read = applyCorrection(QUIET_SURVEY, changes);
  if (!read.ok) throw new Error(read.problems.map(problemToText).join('\n'));
  return planChangeover(read.survey, boards ?? [board(quietBoard())]);
}
