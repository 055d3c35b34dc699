import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseConductor } from '../../source/electrical/conductor.ts';
import { parseQuantity, type QuantityKind } from '../../source/electrical/quantity.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { printSurvey } from '../../source/site/print-survey.ts';
import { printWritten } from '../../source/site/print-written.ts';
import type { Survey } from '../../source/site/survey.ts';
import { writeConductor, writeQuantity } from '../../source/site/write-quantity.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

/** For the figures in full, on a busy machine. */
const LIMIT = 600_000;

function read(text: string): Survey {
  const parsed = parseSurvey(text, 'survey.yaml');
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
  return parsed.survey;
}

describe('printing a survey', () => {
  const demo = read(
    readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8'),
  );

  test('reads like a hand-written file', () => {
    const lines = printSurvey(demo).split('\n');
    expect(lines.slice(0, 5)).toEqual([
      'format: loopward/survey@1',
      'site: {name: Harbour sailing club, reference: HSC-7}',
      'conditions: {cableTemperature: 20 °C, batteryTemperature: 15 °C}',
      'policy: {holdUp: 12 h, alarm: 15 min, batteryMargin: 25 %, interruption: 15 min}',
      '',
    ]);
    const zone = lines.indexOf('  - id: z1');
    expect(lines.slice(zone, zone + 6)).toEqual([
      '  - id: z1',
      '    name: Boat store',
      '    terminals: ["7", "6"]',
      '    loop: {style: series, resistor: 2k2, resistorAt: panel}',
      '    joined: panel',
      '    detectors: [shutter, side-door]',
    ]);
    expect(lines).toContain('      - {colour: white, use: loop, for: shutter, at: "7"}');
    expect(lines).toContain(
      '    supply: {standby: 15 mA, alarm: 25 mA, minimum: 9.5 V, maximum: 15 V, warmUp: 3 min}',
    );
    expect(lines).toContain('    length: unknown');
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(110);
  });

  test('read again, the demo is the same, assumptions and all', () => {
    expect(read(printSurvey(demo))).toEqual(demo);
  });

  test(
    'read again, any survey is the same',
    () => {
      for (let seed = 0; seed < scale(2000, 0.02); seed += 1) {
        const { survey, text } = randomSurvey(seed);
        expect(read(text), `seed ${seed}, as text`).toEqual(survey);
        expect(read(printSurvey(survey)), `seed ${seed}, printed`).toEqual(survey);
      }
    },
    LIMIT,
  );

  test('the outside alone, and text that only looks like something else', () => {
    const outside = read(
      'format: loopward/survey@1\noutside: {feed: unknown}\nsite: {name: "null", reference: "~"}',
    );
    expect(read(printSurvey(outside))).toEqual(outside);
    const odd = { ...demo, site: { name: '# {a: [b', reference: '- x: "y"', address: "it's, 2 & more" } };
    expect(read(printSurvey(odd)).site).toEqual(odd.site);
  });

  test('values as they were typed are printed as they are', () => {
    expect(
      printWritten({
        cables: [{ id: 'c1', length: '14 m', cores: [{ use: 'loop', at: '8' }, { use: 'loop' }] }],
      }),
    ).toBe(
      'cables:\n  - id: c1\n    length: 14 m\n    cores:\n      - {use: loop, at: "8"}\n      - {use: loop}\n',
    );
  });
});

describe('figures are written so that they read back exactly', () => {
  test.each<[number, QuantityKind, string]>([
    [2200, 'ohms', '2k2'],
    [1000, 'ohms', '1k'],
    [470, 'ohms', '470 ohm'],
    [1_500_000, 'ohms', '1.5 Mohm'],
    [0.015, 'amps', '15 mA'],
    [0.75, 'amps', '750 mA'],
    [1.2, 'amps', '1.2 A'],
    [14.0208, 'metres', '14.0208 m'],
    [0.15, 'metres', '150 mm'],
    [43_200, 'seconds', '12 h'],
    [900, 'seconds', '15 min'],
    [0.3, 'seconds', '300 ms'],
    [0.05, 'fraction', '5 %'],
    [-5, 'celsius', '-5 °C'],
  ])('%d %s is %s', (value, kind, text) => {
    expect(writeQuantity(value, kind)).toBe(text);
  });

  test('any figure of any kind', () => {
    const kinds: QuantityKind[] = [
      'ohms',
      'volts',
      'amps',
      'metres',
      'ampHours',
      'seconds',
      'celsius',
      'fraction',
    ];
    for (const kind of kinds) {
      for (let step = 1; step < 400; step += 1) {
        const value = Number(((step * step * 7919) / 1e4 / (1 + (step % 9))).toPrecision(15));
        expect(parseQuantity(writeQuantity(value, kind), kind), `${value} ${kind}`).toEqual({
          ok: true,
          value,
        });
      }
    }
  });

  test('conductors keep their area, given by gauge, area or strands', () => {
    for (const text of ['22 AWG', '0.22 mm2', '7/0.2', '0.22 mm2 (7/0.2)', '1/0 AWG']) {
      const parsed = parseConductor(text);
      if (!parsed.ok) throw new Error(parsed.says);
      expect(parseConductor(writeConductor(parsed.value)), text).toEqual(parsed);
    }
  });
});
