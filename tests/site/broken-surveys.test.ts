import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseSurvey, problemToText } from '../../source/site/parse-survey.ts';

const folder = new URL('../../fixtures/broken/', import.meta.url);

function problemsOf(name: string): string[] {
  const read = parseSurvey(readFileSync(new URL(`${name}.yaml`, folder), 'utf8'), name);
  if (read.ok) throw new Error(`${name} was accepted`);
  return read.problems.map(({ line, field }) => `${line} ${field}`);
}

describe('broken surveys are told what is wrong, each with line and field', () => {
  test.each([
    ['wrong-unit', ['8 zones.z1.loop.resistor', '11 detectors.hall.supply.standby', '14 cables.c1.length']],
    ['unknown-cable', ['7 detectors.door.cable']],
    ['same-terminals', ['6 zones.z2.terminals']],
    ['circle-of-cables', ['10 cables.c1.from', '11 cables.c2.from', '12 cables.c3.from']],
    ['detector-in-two-zones', ['6 zones.z2.detectors.1', '9 detectors.window']],
    ['empty', ['1 ']],
    ['not-yaml', ['2 ']],
    [
      'many-at-once',
      [
        '5 outside.feed',
        '8 panel.slack',
        '16 zones.z1.loop.resistorAt.detector',
        '19 zones.z2.terminals',
        '21 zones.z2.detectors.2',
        '23 zones.z3.terminals.2',
        '24 zones.z3.loop.style',
        '25 zones.z3.detectors.1',
        '29 detectors.3.id',
        '29 detectors.3.cable',
        '32 cables.c1.length',
        '33 cables.c1.conductor',
        '34 cables.c1.cores.1.at',
        '37 cables.c2.from',
        '38 cables.c2.cores.2.for',
        '41 cables.c3.from',
        '43 cables.c3.colour',
        '44 cables.c3.length',
      ],
    ],
  ])('%s', (name, expected) => {
    expect(problemsOf(name)).toEqual(expected);
  });

  test('every broken fixture is covered, and every problem says what is so and what is accepted', () => {
    const names = readdirSync(folder).map((file) => file.replace('.yaml', ''));
    expect(names).toHaveLength(8);
    for (const name of names) {
      const read = parseSurvey(readFileSync(new URL(`${name}.yaml`, folder), 'utf8'), `${name}.yaml`);
      for (const problem of read.ok ? [] : read.problems) {
        expect(problem.says).toMatch(/^\S.*[.!?]$/);
        expect(problem.accepts).not.toBe('');
        expect(problemToText(problem)).toContain(`${name}.yaml`);
      }
    }
  });
});

const SMALL = `format: loopward/survey@1
outside: {feed: plug-in-transformer}
panel: {terminals: [{number: "1", role: zone}, {number: "2", role: common}, {number: "3", role: zone}]}
zones:
  - {id: z1, terminals: ["1", "2"], loop: {style: series, resistor: 2k2, resistorAt: panel}, detectors: [door]}
  - {id: z2, terminals: ["3", "2"], loop: {style: plain}, detectors: [hall, hatch]}
detectors:
  - {id: door, kind: door-contact, contact: normally-closed, cable: c1}
  - {id: hall, kind: door-contact, contact: normally-closed, cable: c2}
  - {id: hatch, kind: door-contact, contact: normally-closed, cable: c3}
cables:
  - {id: c1, length: 9 m, conductor: 22 AWG, cores: [{use: loop}, {use: loop}]}
  - {id: c2, length: 9 m, conductor: 22 AWG, cores: [{use: loop}, {use: loop}]}
  - {id: c3, length: 9 m, conductor: 22 AWG, cores: [{use: loop}, {use: loop}]}
`;

function small(...changes: [string, string][]): { says: string[]; fields: string[] } {
  let text = SMALL;
  for (const [from, to] of changes) {
    if (!text.includes(from)) throw new Error(`nothing to change: ${from}`);
    text = text.replace(from, to);
  }
  const read = parseSurvey(text, 'small.yaml');
  const problems = read.ok ? [] : read.problems;
  return { says: problems.map((problem) => problem.says), fields: problems.map((problem) => problem.field) };
}

describe('what a survey cannot say', () => {
  test('the small survey itself is fine', () => {
    expect(small().says).toEqual([]);
  });

  test.each<[string, [string, string][], string]>([
    ['a bare number', [['9 m', '9']], 'cables.c1.length'],
    ['an unknown format', [['survey@1', 'survey@9']], 'format'],
    ['an id with capitals', [['id: z1', 'id: Z1']], 'zones.Z1.id'],
    ['the same id twice', [['id: c3', 'id: c1']], 'cables.c1'],
    [
      'a detector named like a sounder',
      [['cables:', 'sounders: [{id: door, cable: c1}]\ncables:']],
      'sounders.door',
    ],
    ['a word that has a meaning of its own', [['id: door', 'id: lid']], 'detectors.lid.id'],
    ['both ends on one screw', [['["1", "2"]', '["1", "1"]']], 'zones.z1.terminals'],
    ['a terminal that the panel has not', [['["1", "2"]', '["1", "7"]']], 'zones.z1.terminals.2'],
    [
      'a core on a screw of another zone',
      [['{use: loop}, {use: loop}', '{use: loop, at: "3"}, {use: loop}']],
      'cables.c1.cores.1.at',
    ],
    [
      'both cores on one screw',
      [['{use: loop}, {use: loop}', '{use: loop, at: "1"}, {use: loop, at: "1"}']],
      'cables.c1.cores.2.at',
    ],
    [
      'three loop cores for one detector',
      [['{use: loop}, {use: loop}', '{use: loop}, {use: loop}, {use: loop}']],
      'cables.c1.cores.1',
    ],
    [
      'one loop core and no return',
      [['{use: loop}, {use: loop}', '{use: loop, for: door}']],
      'cables.c1.cores.1',
    ],
    ['no loop core at all', [['{use: loop}, {use: loop}', '{use: spare}, {use: spare}']], 'cables.c1.cores'],
    [
      'a core for a detector of another cable',
      [['{use: loop}, {use: loop}', '{use: loop, for: hall}, {use: loop, for: hall}']],
      'cables.c1.cores.1.for',
    ],
    [
      'joined in the field, with two home runs',
      [['detectors: [hall, hatch]', 'joined: field, detectors: [hall, hatch]']],
      'zones.z2.joined',
    ],
    [
      'joined at the panel, with one home run',
      [
        ['detectors: [hall, hatch]', 'joined: panel, detectors: [hall, hatch]'],
        ['{id: c3, length: 9 m, conductor: 22 AWG,', '{id: c3, from: c2,'],
      ],
      'zones.z2.joined',
    ],
    [
      'a set that is not joined',
      [['detectors: [hall, hatch]', 'joined: [[hall, hatch]], detectors: [hall, hatch]']],
      'zones.z2.joined',
    ],
    [
      'a normally open contact in series',
      [['contact: normally-closed', 'contact: normally-open']],
      'zones.z1.loop.style',
    ],
    ['a normally closed contact across', [['style: series', 'style: across']], 'zones.z1.loop.style'],
    [
      'both kinds without the style for it',
      [
        [
          'id: hall, kind: door-contact, contact: normally-closed',
          'id: hall, kind: flood, contact: normally-open',
        ],
      ],
      'zones.z2.loop.style',
    ],
    [
      'one kind with the style for both',
      [['style: plain', 'style: mixed, resistor: 1k']],
      'zones.z2.loop.style',
    ],
    [
      'a bridge that is missing',
      [['style: plain', 'style: bridged, bridges: {hall: 1k}']],
      'zones.z2.loop.bridges',
    ],
    [
      'a bridge of a stranger',
      [['style: plain', 'style: bridged, bridges: {hall: 1k, hatch: 1k, door: 1k}']],
      'zones.z2.loop.bridges.door',
    ],
    [
      'a supply without cores for it',
      [['id: door, kind: door-contact', 'id: door, kind: movement, supply: {standby: 10 mA}']],
      'detectors.door.supply',
    ],
    [
      'a supply that allows no voltage',
      [['id: door, kind: door-contact', 'id: door, kind: movement, supply: {minimum: 15 V, maximum: 9 V}']],
      'detectors.door.supply',
    ],
    [
      'an own tamper without a tamper loop',
      [['id: door, kind: door-contact', 'id: door, kind: door-contact, tamper: own']],
      'detectors.door.tamper',
    ],
    [
      'an input on a board that is not there',
      [
        ['id: door,', 'id: door, input: b7/1,'],
        ['cables:', 'boards: [{id: b1, file: six-paired}]\ncables:'],
      ],
      'detectors.door.input',
    ],
    ['an input that is none', [['id: door,', 'id: door, input: seven,']], 'detectors.door.input'],
    ['importance beyond five', [['id: door,', 'id: door, importance: 6,']], 'detectors.door.importance'],
    [
      'an interruption of two hours',
      [['outside:', 'policy: {interruption: 2 h}\noutside:']],
      'policy.interruption',
    ],
    [
      'an aux core without a terminal for it',
      [['{use: loop}, {use: loop}', '{use: loop}, {use: loop}, {use: aux-positive}, {use: aux-negative}']],
      'cables.c1.cores.3',
    ],
    [
      'a doubled core that doubles nothing',
      [['{use: loop}, {use: loop}', '{use: doubled}, {use: loop}, {use: loop}']],
      'cables.c1.cores.1',
    ],
    [
      'a screw for a core that never gets to the panel',
      [
        ['detectors: [hall, hatch]', 'joined: field, detectors: [hall, hatch]'],
        [
          '{id: c3, length: 9 m, conductor: 22 AWG, cores: [{use: loop}',
          '{id: c3, from: c2, cores: [{use: loop, at: "3"}',
        ],
      ],
      'cables.c3.cores.1.at',
    ],
    ['a list where a value belongs', [['length: 9 m', 'length: [9 m]']], 'cables.c1.length'],
    [
      'a value where a group belongs',
      [['outside: {feed: plug-in-transformer}', 'outside: mains']],
      'outside',
    ],
    ['a group where a list belongs', [['cables:', 'keypads: {id: k1}\ncables:']], 'keypads'],
    ['a key that is no name', [['outside: {', 'outside: {__proto__: 1, ']], 'outside'],
    ['nothing surveyed', [[SMALL.slice(SMALL.indexOf('outside')), 'site: {name: x}\n']], ''],
  ])('%s', (_title, changes, field) => {
    expect(small(...changes).fields).toContain(field);
  });

  test('a wrong figure hides no mistake in the cores', () => {
    const found = small(['9 m', '9'], ['{use: loop}, {use: loop}', '{use: loop, at: "3"}, {use: loop}']);
    expect(found.fields).toEqual(['cables.c1.length', 'cables.c1.cores.1.at']);
  });
});
