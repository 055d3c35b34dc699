import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { boardProblems } from '../../source/site/check-boards.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import type { Survey } from '../../source/site/survey.ts';
import { shippedBoard } from '../random-survey.ts';

const demo = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');

function survey(text: string): Survey {
  const read = parseSurvey(text, 'survey.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.survey;
}

describe('the demo survey', () => {
  const read = survey(demo);

  test('is complete: eleven detectors in seven zones, on a board that is there', () => {
    expect(read.complete).toBe(true);
    expect([read.zones.length, read.detectors.length, read.cables.length]).toEqual([7, 11, 14]);
    expect(boardProblems(read, [shippedBoard('eight-paired')], demo, 'survey.yaml')).toEqual([]);
  });

  test('has its quantities in SI units', () => {
    expect(read.panel).toMatchObject({ feedVolts: 18, slackMetres: 0.15 });
    expect(read.policy).toEqual({
      holdUpHours: 12,
      alarmHours: 0.25,
      batteryMargin: 0.25,
      interruptionSeconds: 900,
    });
    // 46 ft at 0.3048 m: the international foot, exact.
    expect(read.cables.find((cable) => cable.id === 'c3')).toMatchObject({
      lengthMetres: 14.0208,
      lengthKnown: 'measured',
    });
    expect(read.detectors.find((detector) => detector.id === 'hall')?.supply).toEqual({
      standbyAmps: 0.015,
      alarmAmps: 0.025,
      minimumVolts: 9.5,
      maximumVolts: 15,
      warmUpSeconds: 180,
    });
  });

  test('names what a default filled in, and nothing else', () => {
    expect(read.assumed).toEqual([
      { about: 'c7', field: 'length', value: '30 m' },
      { about: 'c14', field: 'length', value: '30 m' },
      { about: 'c14', field: 'conductor', value: '24 AWG' },
      { about: 'hall-glass', field: 'supply.warmUp', value: '3 min' },
      { about: 'galley-smoke', field: 'supply.warmUp', value: '3 min' },
    ]);
  });

  test('is the same as JSON', () => {
    const asJson = JSON.stringify(toPlain(read), null, 1);
    expect(survey(asJson).zones).toEqual(read.zones);
  });
});

/** The part of a survey whose fields are written as they are kept. */
function toPlain({ zones, detectors, cables, panel }: Survey) {
  return {
    format: 'loopward/survey@1',
    outside: { feed: 'unknown' },
    panel: { terminals: panel.terminals },
    zones: zones.map(({ id, name, terminals, loop, detectors: members }) => ({
      id,
      name,
      terminals,
      loop: {
        style: loop.style,
        ...(loop.resistorOhms === null
          ? {}
          : { resistor: `${loop.resistorOhms} ohm`, resistorAt: loop.resistorAt }),
      },
      detectors: members,
    })),
    detectors: detectors.map(({ id, kind, contact, cable, importance }) => ({
      id,
      kind,
      contact,
      cable,
      importance,
      input: null,
    })),
    cables: cables.map(({ id, lengthMetres, from, cores }) => ({
      id,
      length: `${lengthMetres} m`,
      ...(from === 'panel' ? {} : { from }),
      cores: cores.map(({ colour, use, for: device, at }) => ({ colour, use, for: device, at })),
    })),
  };
}

describe('what is left out', () => {
  const outsideOnly = 'format: loopward/survey@1\noutside: {feed: unknown, lifeSafety: unknown}\n';

  test('the outside alone is a survey that is not complete', () => {
    const read = survey(outsideOnly);
    expect(read).toMatchObject({ complete: false, zones: [], boards: [], assumed: [] });
    expect(read.outside).toEqual({
      feed: 'unknown',
      signalling: 'unknown',
      monitored: 'unknown',
      set: 'unknown',
      lifeSafety: 'unknown',
      otherFeeds: 'unknown',
      sounderBattery: 'unknown',
    });
  });

  const bare = `${outsideOnly}zones:
  - {id: z1, terminals: [8, 9], loop: {style: series}, detectors: [hall]}
  - {id: z2, terminals: [10, 9], loop: {style: across, resistor: 4K7, resistorAt: detector}, detectors: [pit]}
detectors: [{id: hall, kind: movement, cable: c1}, {id: pit, kind: flood, cable: c2}]
cables:
  - {id: c1, cores: [{use: loop}, {use: loop}, {use: aux-positive}, {use: aux-negative}]}
  - {id: c2, length: unknown, conductor: unknown, cores: [{use: loop}, {use: loop}]}
boards: [b1]
`;

  test('gets a stand-in, and each stand-in is named', () => {
    const read = survey(bare);
    const named = read.assumed.map(({ about, field, value }) => `${about} ${field} ${value}`);
    expect(named).toEqual([
      'z1 loop.resistor unknown',
      'z1 loop.resistorAt unknown',
      'c1 length 30 m',
      'c1 conductor 24 AWG',
      'c2 length 30 m',
      'c2 conductor 24 AWG',
      'conditions cableTemperature 20 °C',
      'conditions batteryTemperature 20 °C',
      'panel terminals.8 zone',
      'panel terminals.9 zone',
      'panel terminals.10 zone',
      'panel terminals.aux+ aux-positive',
      'panel terminals.aux- aux-negative',
      'hall contact normally-closed',
      'hall place interior',
      'hall supply.standby 25 mA',
      'hall supply.alarm 35 mA',
      'hall supply.minimum 9.5 V',
      'hall supply.maximum 15 V',
      'hall supply.warmUp 3 min',
      'pit contact normally-open',
      'pit place interior',
    ]);
  });

  test('a resistor "at the detector" of a lone detector is at that one, in letter code as printed on it', () => {
    expect(survey(bare).zones[1]?.loop).toMatchObject({
      resistorOhms: 4700,
      resistorAt: { detector: 'pit', by: 'unknown' },
    });
  });

  test('a board by its id alone is the file of that name', () => {
    expect(survey(bare).boards).toEqual([{ id: 'b1', file: 'b1.yaml' }]);
  });

  test('how detectors are joined follows from their cables', () => {
    const text = bare
      .replace('detectors: [hall]}', 'detectors: [hall, loft, hatch]}')
      .replace(
        'detectors: [{',
        'detectors: [{id: loft, kind: vibration, cable: c3}, {id: hatch, kind: door-contact, cable: c4}, {',
      )
      .replace(
        'boards:',
        '  - {id: c3, from: c1, cores: [{use: loop}, {use: loop}]}\n  - {id: c4, cores: [{use: loop}, {use: loop}]}\nboards:',
      );
    expect(survey(text).zones[0]).toMatchObject({ joined: 'panel', fieldSets: [['hall', 'loft']] });
  });

  test('cores dealt to several detectors by their order are an assumption', () => {
    const text = bare
      .replace('{id: pit, kind: flood, cable: c2}', '{id: pit, kind: flood, cable: c1}')
      .replace(
        '{use: loop}, {use: loop}, {use: aux',
        '{use: loop}, {use: loop}, {use: loop}, {use: loop}, {use: aux',
      )
      .replace(/ {2}- \{id: c2.*\n/, '');
    expect(survey(text).assumed.slice(-2)).toEqual([
      { about: 'c1', field: 'cores.1.for', value: 'hall' },
      { about: 'c1', field: 'cores.3.for', value: 'pit' },
    ]);
  });
});

describe('survey and boards together', () => {
  test('an input that no board has is told with its line and those that are there', () => {
    const text = demo.replace('importance: 3                 # the outboards', 'input: b1/9 # the outboards');
    const [problem] = boardProblems(survey(text), [shippedBoard('eight-paired')], text, 'survey.yaml');
    expect(problem).toMatchObject({ field: 'detectors.shutter.input', says: 'There is no input b1/9.' });
    expect(text.split('\n')[(problem?.line ?? 0) - 1]).toContain('b1/9');
    expect(problem?.accepts).toContain('b1/8');
  });

  test('an adapter lead must be a cable of the site', () => {
    const board = shippedBoard('eight-paired');
    const withLead = (lead: string) => [{ ...board, adapter: { ...board.adapter, lead } }];
    expect(boardProblems(survey(demo), withLead('c99'), demo, 's')).toMatchObject([{ field: 'boards.b1' }]);
    expect(boardProblems(survey(demo), withLead('c1'), demo, 's')).toEqual([]);
  });
});
