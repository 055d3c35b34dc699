import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import type { Survey, Zone } from '../../source/site/survey.ts';
import { wiringAsFound } from '../../source/site/wiring-as-found.ts';
import type { Wiring } from '../../source/wiring/wiring.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';
import { branchesOf, ohmsBetween } from './wiring-graph.ts';

/** For the figures in full, on a busy machine. */
const LIMIT = 600_000;

const SITES = Array.from({ length: scale(3000, 0.1) }, (_, seed) => {
  const { survey } = randomSurvey(seed);
  return { seed, survey, wiring: wiringAsFound(survey) };
});

function read(text: string): { survey: Survey; wiring: Wiring } {
  const parsed = parseSurvey(text, 'site.yaml');
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
  return { survey: parsed.survey, wiring: wiringAsFound(parsed.survey) };
}

const ends = (wiring: Wiring) => wiring.conductors.map(({ id, near, far }) => `${id} ${near} ${far}`);

describe('the demo as found', () => {
  const url = new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url);
  const { wiring } = read(readFileSync(url, 'utf8'));

  test('a resistor at the panel, a splice between two home runs, a screw shared with the next zone', () => {
    expect(ends(wiring).slice(0, 4)).toEqual([
      'c1/1 join:z1.0 post:shutter.a',
      'c1/2 join:z1.1 post:shutter.b',
      'c2/1 join:z1.1 post:side-door.a',
      'c2/2 old:6 post:side-door.b',
    ]);
    expect(wiring.resistors[0]).toMatchObject({ a: 'old:7', b: 'join:z1.0', ohms: 2200, place: 'panel' });
    expect(wiring.conductors.map((conductor) => conductor.screw).slice(0, 4)).toEqual(['7', null, null, '6']);
  });

  test('a daisy chain: out over the door, on to the window, back over the joint', () => {
    expect(ends(wiring).slice(4, 8)).toEqual([
      'c3/1 join:z2.0 post:galley-door.a',
      'c3/2 old:6 field:c3',
      'c4/1 post:galley-door.b post:galley-window.a',
      'c4/2 field:c3 post:galley-window.b',
    ]);
  });

  test('five conductors share the aux screw, and each device draws from its own terminals', () => {
    expect(wiring.conductors.filter((conductor) => conductor.near === 'old:17')).toHaveLength(5);
    expect(wiring.loads.map((load) => load.device)).toEqual([
      'hall',
      'hall-glass',
      'loft',
      'galley-smoke',
      'gable',
      'kp',
    ]);
  });

  test('a resistor out at the detector sits behind its terminal', () => {
    expect(wiring.resistors.find((resistor) => resistor.zone === 'z4')).toMatchObject({
      a: 'post:loft.a',
      b: 'post:loft.r',
      place: { detector: 'loft' },
    });
  });
});

describe('other ways of wiring', () => {
  const head = 'format: loopward/survey@1\noutside: {feed: unknown}\n';
  const pair = 'cores: [{use: loop}, {use: loop}]';

  test('one return for two zones: both contacts end on it', () => {
    const { wiring } = read(`${head}
zones:
  - {id: z1, terminals: ["1", "2"], loop: {style: plain}, detectors: [a]}
  - {id: z2, terminals: ["3", "2"], loop: {style: plain}, detectors: [b]}
detectors: [{id: a, kind: door-contact, cable: c1}, {id: b, kind: door-contact, cable: c1}]
cables: [{id: c1, cores: [{use: loop}, {use: loop}, {use: common}]}]
`);
    expect(ends(wiring)).toEqual(['c1/1 old:1 post:a.a', 'c1/2 old:3 post:b.a', 'c1/3 old:2 field:c1']);
    expect(wiring.contacts.map(({ a, b }) => `${a} ${b}`)).toEqual([
      'post:a.a field:c1',
      'post:b.a field:c1',
    ]);
  });

  test('the cores that the survey puts on screws decide the order', () => {
    const { wiring } = read(`${head}
zones: [{id: z1, terminals: ["1", "2"], loop: {style: plain}, detectors: [a, b]}]
detectors: [{id: a, kind: door-contact, cable: c1}, {id: b, kind: door-contact, cable: c2}]
cables: [{id: c1, ${pair}}, {id: c2, cores: [{use: loop}, {use: loop, at: "1"}]}]
`);
    expect(ends(wiring)).toEqual([
      'c1/1 join:z1.1 post:a.a',
      'c1/2 old:2 post:a.b',
      'c2/1 join:z1.1 post:b.b',
      'c2/2 old:1 post:b.a',
    ]);
  });

  test('a trunk with a pair for each, the second going on from its far end', () => {
    const { wiring } = read(`${head}
zones: [{id: z1, terminals: ["1", "2"], loop: {style: plain}, joined: panel, detectors: [a, b]}]
detectors: [{id: a, kind: door-contact, cable: c1}, {id: b, kind: door-contact, cable: c2}]
cables:
  - {id: c1, cores: [{use: loop, for: a}, {use: loop, for: a}, {use: loop, for: b}, {use: loop, for: b}]}
  - {id: c2, from: c1, ${pair}}
`);
    expect(ends(wiring)).toEqual([
      'c1/1 old:1 post:a.a',
      'c1/2 join:z1.1 post:a.b',
      'c1/3 join:z1.1 field:c1',
      'c1/4 old:2 field:c1.2',
      'c2/1 field:c1 post:b.a',
      'c2/2 field:c1.2 post:b.b',
    ]);
  });

  test('a tamper loop through a detector, the lid and back over a sounder’s negative', () => {
    const { wiring } = read(`${head}
panel: {terminals: [${[
      '1 zone',
      '2 common',
      '3 sounder',
      '4 sounder',
      '5 zone',
      '6 zone',
      '7 aux-positive',
      '8 aux-negative',
    ]
      .map((line) => line.split(' '))
      .map(([number, role]) => `{number: "${number}", role: ${role}}`)
      .join(', ')}]}
zones: [{id: z1, terminals: ["1", "2"], loop: {style: plain}, detectors: [a]}]
tampers:
  - {id: t1, terminals: ["5", "2"], through: [a, lid], loop: {style: plain}, keep: yes}
  - {id: t2, terminals: ["6", "4"], through: [bell], loop: {style: plain}, keep: yes}
detectors: [{id: a, kind: movement, cable: c1, tamper: own, supply: {standby: 9 mA}}]
cables:
  - {id: c1, cores: [{use: loop}, {use: loop}, {use: tamper}, {use: tamper}, {use: aux-positive}, {use: aux-negative}]}
  - {id: c2, cores: [{use: sounder-positive}, {use: sounder-negative}, {use: tamper-return}]}
sounders: [{id: bell, cable: c2}]
`);
    expect(wiring.contacts.filter((contact) => contact.purpose === 'tamper')).toMatchObject([
      { detector: 'a', zone: 't1', a: 'post:a.ta', b: 'post:a.tb' },
      { detector: 'lid', zone: 't1', a: 'join:t1.1', b: 'old:2' },
      { detector: 'bell', zone: 't2', b: 'post:bell.neg' },
    ]);
  });
});

describe('any survey', () => {
  test(
    'has every conductor of every cable in it once, with two different ends',
    () => {
      for (const { seed, survey, wiring } of SITES) {
        const expected = survey.cables.flatMap(({ id, cores }) =>
          cores.map((_, index) => `${id}/${index + 1}`),
        );
        expect(
          wiring.conductors.map((conductor) => conductor.id),
          `seed ${seed}`,
        ).toEqual(expected);
        for (const { near, far, id } of wiring.conductors) expect(near, `seed ${seed} ${id}`).not.toBe(far);
      }
    },
    LIMIT,
  );

  test(
    'has every contact, resistor and load that it speaks of',
    () => {
      for (const { seed, survey, wiring } of SITES) {
        const alarms = wiring.contacts.filter((contact) => contact.purpose === 'alarm');
        expect(alarms.map((contact) => contact.detector).sort(), `seed ${seed}`).toEqual(
          survey.zones.flatMap((zone) => zone.detectors).sort(),
        );
        const ids = wiring.resistors.map((resistor) => resistor.id);
        expect(ids, `seed ${seed}`).toHaveLength(new Set(ids).size);
        const ended = survey.zones.filter((zone) => zone.loop.resistorAt !== null);
        for (const zone of ended) expect(ids, `seed ${seed}`).toContain(`${zone.id}.end-of-line`);
        const elsewhere = survey.supplies.flatMap((supply) => supply.feeds);
        const drawing = survey.detectors.filter(
          ({ id, supply }) => supply !== null && supply !== 'from-loop' && !elsewhere.includes(id),
        );
        const loads = wiring.loads.map((load) => load.device);
        for (const { id } of drawing) expect(loads, `seed ${seed}`).toContain(id);
        for (const { positive, negative } of wiring.loads) {
          expect(positive.startsWith('post:') || positive.startsWith('field:'), `seed ${seed}`).toBe(true);
          expect(positive).not.toBe(negative);
        }
      }
    },
    LIMIT,
  );

  test(
    'leaves no conductor of a loop or a supply with a loose end',
    () => {
      for (const { seed, wiring } of SITES) {
        for (const { id, use, near, far, atPanel, screw } of wiring.conductors) {
          if (!/^(loop|common|tamper|aux|sounder|hold-off|keypad)/.test(use)) continue;
          expect(`${near} ${far}`, `seed ${seed} ${id}`).not.toContain('end:');
          if (!atPanel) expect(screw).toBeNull();
        }
      }
    },
    LIMIT,
  );

  // Loop tables: what a loop of each wiring reads secure and with one contact operated. The rows of a
  // normally closed loop with its resistor in series, of a normally open one with it across, and of two
  // resistors at a normally closed contact are trade practice as described on protectiveresources.com and in
  // NAVFAC DM-13.02 section 7.2.1.1; the others are the same circuits by Ohm's law.
  test(
    'reads between its two screws what the tables say, at rest and with each detector worked',
    () => {
      let checked = 0;
      for (const { seed, survey, wiring } of SITES.slice(0, scale(3000, 0.05))) {
        for (const zone of survey.zones) {
          const [a, b] = wiring.loops[zone.id]!;
          const reads = (worked: string | null) =>
            ohmsBetween(branchesOf(wiring, survey, zone.id, worked), a, b);
          const about = `seed ${seed} ${zone.id} ${zone.loop.style}`;
          expectOhms(reads(null), atRest(zone, survey), about);
          for (const id of zone.detectors) expectOhms(reads(id), worked(zone, survey, id), `${about} ${id}`);
          checked += 1;
        }
      }
      expect(checked).toBeGreaterThan(100);
    },
    LIMIT,
  );

  test(
    'keeps its tamper loops closed at rest',
    () => {
      for (const { seed } of SITES.slice(0, scale(3000, 0.02))) {
        const { survey } = randomSurvey(seed, { zones: 2, tampers: true });
        const wiring = wiringAsFound(survey);
        for (const { id, loop } of survey.tampers) {
          const [a, b] = wiring.loops[id]!;
          const resistance = ohmsBetween(branchesOf(wiring, survey, id, null), a, b);
          expectOhms(resistance, loop.style === 'plain' ? 0 : 2200, `seed ${seed} ${id}`);
        }
      }
    },
    LIMIT,
  );
});

function expectOhms(found: number, expected: number, about: string): void {
  if (!Number.isFinite(expected)) expect(found > 1e9, `${about}: ${found}`).toBe(true);
  else expect(Math.abs(found - expected), `${about}: ${found} for ${expected}`).toBeLessThan(0.5);
}

const isOpen = (survey: Survey, zone: Zone, id: string) => {
  const contact = survey.detectors.find((detector) => detector.id === id)!.contact;
  return zone.loop.style === 'across' || contact === 'normally-open';
};
const ohms = (value: number | 'unknown' | null) => (value === 'unknown' ? 5000 : (value ?? 0));

function atRest(zone: Zone, survey: Survey): number {
  const allOpen = zone.detectors.every((id) => isOpen(survey, zone, id));
  if (zone.loop.style === 'plain') return allOpen ? Number.POSITIVE_INFINITY : 0;
  return ohms(zone.loop.resistorOhms);
}

function worked(zone: Zone, survey: Survey, id: string): number {
  const { style, bridges } = zone.loop;
  const end = ohms(zone.loop.resistorOhms);
  const own = ohms(zone.loop.alarmResistorOhms);
  const open = isOpen(survey, zone, id);
  if (style === 'bridged') return end + bridges[id]!;
  if (style === 'two-resistor') return open ? (end * own) / (end + own) : end + own;
  return open ? 0 : Number.POSITIVE_INFINITY;
}
