import { createRequire } from 'node:module';
import { computeGrouping } from '../../source/plan/grouping/group.ts';
import { computeUnits } from '../../source/plan/grouping/units.ts';
import { computeLifeSafety } from '../../source/plan/life-safety.ts';
import { readField } from '../../source/plan/loops/field.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import type { Board } from '../../source/site/board.ts';
import { parseBoard } from '../../source/site/parse-board.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import type { Survey } from '../../source/site/survey.ts';
import { wiringAsFound } from '../../source/site/wiring-as-found.ts';
import { drawLargeSite } from '../plan/grouping-drawn.ts';
import type { Bench } from './bench.ts';

// The package is CommonJS with types for its default export.
const loadHighs = createRequire(import.meta.url)('highs') as typeof import('highs')['default'];
const highs = await loadHighs();

type Site = { readonly survey: Survey; readonly boards: readonly Board[]; readonly text: string };

const BOARD = `
format: loopward/board@1
id: b
name: Forty-eight inputs
supply: {kind: dc, accepts: {from: 11.4 V, to: 15 V}, maximum: 10 A}
adapter: {voltage: 14.2 V, tolerance: 3 %, current: 10 A}
own: {standby: 140 mA}
inputs: [${Array.from({ length: 48 }, (_, at) => `{id: "${at + 1}", terminal: I${at + 1}, common: C${Math.ceil((at + 1) / 2)}}`).join(', ')}]
response: 250 ms
sensing: {pullUp: 10 kohm, reference: 3.3 V, closedBelow: 0.8 V, openAbove: 2.0 V, pullUpTolerance: 5 %, inputMaximum: 5 V}
supervision: none
aux: {positive: A+, negative: A-, current: 5 A, mains: 13.7 V, mainsTolerance: 3 %, dropFromBattery: 0.3 V}
sounder: {positive: S+, negative: S-, current: 1 A, sense: positive-applied, limit: 15 min}
battery: {voltage: 12 V, capacity: 40 Ah, cutOff: 10.5 V, float: 13.7 V, chargeCurrent: 3 A}
terminals: {from: 26 AWG, to: 16 AWG, conductors: 2}
mounting: {insulate: true}
network: wired
`;

/** A building of zones of one to seven detectors, every fifth detector powered, and inputs for two thirds of them. */
function largeSite(detectors: number): Site {
  const zones: string[] = [];
  const devices: string[] = [];
  const cables: string[] = [];
  const terminals: string[] = ['{number: "1", role: aux-positive}', '{number: "2", role: aux-negative}'];
  const zoneCount = Math.round((detectors * 120) / 500);
  for (let zone = 0, placed = 0; zone < zoneCount; zone++) {
    // The first zones are large, the last small, as in a school: so many that all detectors are placed.
    const left = detectors - placed - (zoneCount - zone - 1);
    const size =
      zone === zoneCount - 1
        ? left
        : Math.min(left, 1 + ((zone * 5) % 7), Math.ceil((2 * (detectors - placed)) / (zoneCount - zone)));
    const ids = Array.from({ length: size }, (_, at) => `d${placed + at}`);
    const screws = [`"s${2 * zone}"`, `"s${2 * zone + 1}"`];
    for (const screw of screws) terminals.push(`{number: ${screw}, role: zone}`);
    zones.push(
      `{id: z${zone}, terminals: [${screws.join(', ')}], loop: {style: series, resistor: 2k2, resistorAt: panel}, joined: panel, detectors: [${ids.join(', ')}]}`,
    );
    for (const [at, id] of ids.entries()) {
      const powered = (placed + at) % 5 === 0;
      const supply = powered
        ? ', supply: {standby: 10 mA, alarm: 20 mA, minimum: 9 V, maximum: 15 V, warmUp: 1 s}'
        : '';
      devices.push(
        `{id: ${id}, kind: ${powered ? 'movement' : 'window-contact'}, contact: normally-closed, place: interior, cable: c${placed + at}, importance: ${(placed + at) % 6}${supply}}`,
      );
      const pair = '{colour: white, use: loop}, {colour: brown, use: loop}';
      const fed = powered ? ', {colour: red, use: aux-positive}, {colour: black, use: aux-negative}' : '';
      cables.push(
        `{id: c${placed + at}, length: ${5 + (placed % 20)} m, measured: yes, conductor: 22 AWG, cores: [${pair}${fed}]}`,
      );
    }
    placed += size;
  }
  const text = [
    'format: loopward/survey@1',
    'site: {name: School}',
    'outside: {feed: dc-adapter, signalling: none, monitored: no, set: unset, lifeSafety: none, otherFeeds: none, sounderBattery: no}',
    `panel: {slack: 300 mm, enclosure: plastic, terminals: [${terminals.join(', ')}]}`,
    'network: {kind: wired, backup: 24 h}',
    `zones: [${zones.join(',\n  ')}]`,
    `detectors: [${devices.join(',\n  ')}]`,
    `cables: [${cables.join(',\n  ')}]`,
  ].join('\n');
  const read = parseSurvey(text, 'school.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.problems.slice(0, 3)));
  const boards = Array.from({ length: Math.ceil((detectors * 2) / 3 / 48) }, (_, at) => {
    const board = parseBoard(BOARD, 'board.yaml', `b${at + 1}`);
    if (!board.ok) throw new Error(JSON.stringify(board.problems.slice(0, 3)));
    return board.board;
  });
  return { survey: read.survey, boards, text };
}

const SITES = new Map([125, 250, 500, 1000].map((detectors) => [detectors, largeSite(detectors)]));
const site = (detectors: number) => SITES.get(detectors)!;

const { survey, boards, text } = site(500);
const field = readField(wiringAsFound(survey));
const units = computeUnits(survey, computeLifeSafety(survey, field), field, boards);
const inputs = boards.reduce((sum, board) => sum + board.inputs.length, 0);

/** The same division of inputs as an integer programme: one column for every run of a zone's detectors. */
const programme = (() => {
  const columns: { name: string; loss: number; members: number[] }[] = [];
  const zones = new Map<string, number[]>();
  units.forEach((unit, at) => {
    zones.set(unit.zone, [...(zones.get(unit.zone) ?? []), at]);
  });
  for (const members of zones.values()) {
    const sorted = [...members].sort((a, b) => units[b]!.importance - units[a]!.importance);
    for (let from = 0; from < sorted.length; from++)
      for (let to = from + 1; to <= sorted.length; to++) {
        const group = sorted.slice(from, to);
        const loss = group.reduce((sum, at) => sum + units[at]!.importance * (group.length - 1), 0);
        columns.push({ name: `g${columns.length}`, loss, members: group });
      }
  }
  const names = (of: typeof columns) => of.map(({ name }) => name).join(' + ');
  return [
    'Minimize',
    ` loss: ${columns.map(({ name, loss }) => `${loss} ${name}`).join(' + ')}`,
    'Subject To',
    ...units.map((_, at) => ` u${at}: ${names(columns.filter(({ members }) => members.includes(at)))} = 1`),
    ` inputs: ${names(columns)} <= ${inputs}`,
    'Binary',
    ` ${columns.map(({ name }) => name).join(' ')}`,
    'End',
  ].join('\n');
})();

export const benches: readonly Bench[] = [
  {
    name: 'grouping, 500 detectors in 120 zones',
    target: { milliseconds: 50, ratio: 1 },
    baseline: { name: 'HiGHS, the same division of inputs', run: () => highs.solve(programme) },
    subject: { name: 'exact grouping', run: () => computeGrouping(units, survey.mayShare, inputs) },
  },
  // One outside yardstick for all of them, so that growth is one row over the other: at most 2.2 for each doubling.
  ...[125, 250, 500, 1000].map((detectors): Bench => {
    const sites = [1, 2, 3, 4].map((seed) => drawLargeSite(seed, { detectors, inAZone: 200 }));
    return {
      name: `grouping, four random sites of ${detectors} detectors in zones up to 200`,
      target: detectors === 500 ? { milliseconds: 4 * 500 } : {},
      baseline: { name: 'HiGHS, 500 detectors in 120 zones', run: () => highs.solve(programme) },
      subject: {
        name: 'sets and inputs asked for',
        run: () => sites.map((drawn) => computeGrouping(drawn.units, drawn.mayShare, drawn.inputs).loss),
      },
    };
  }),
  {
    name: 'whole plan, 500 detectors in 120 zones',
    target: { milliseconds: 250 },
    baseline: { name: 'reading the survey text', run: () => parseSurvey(text, 'school.yaml') },
    subject: { name: 'plan', run: () => planChangeover(survey, boards) },
  },
  ...[250, 500, 1000].map(
    (detectors): Bench => ({
      name: `whole plan, doubled to ${detectors} detectors`,
      target: { ratio: 2.6 },
      baseline: {
        name: `plan of ${detectors / 2}`,
        run: () => planChangeover(site(detectors / 2).survey, site(detectors / 2).boards),
      },
      subject: {
        name: `plan of ${detectors}`,
        run: () => planChangeover(site(detectors).survey, site(detectors).boards),
      },
    }),
  ),
];
