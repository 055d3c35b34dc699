import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { CAUSES } from '../../source/electrical/causes.ts';
import { diagnose } from '../../source/electrical/diagnose.ts';
import { evaluateLoop } from '../../source/electrical/loop.ts';
import type { MeasuringPoint } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { shippedBoard } from '../random-survey.ts';

const text = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');
const read = parseSurvey(text, 'survey.yaml');
if (!read.ok) throw new Error('the demo is not valid');
const plan = planChangeover(read.survey, [shippedBoard('eight-paired')]);
const point = (id: string): MeasuringPoint => plan.points.find((one) => one.id === id)!;
const causesAt = (id: string, ohms: number) =>
  diagnose(ohms, { expression: point(id).expression, states: point(id).with }, point(id).suspects).map(
    ({ cause }) => cause,
  );

describe('measuring points of the sailing club', () => {
  test('the leg that is lifted is the one no other zone shares', () => {
    const lifts = plan.zones.map(({ id, lift }) => [id, lift.terminal, lift.conductors.join()]);
    expect(lifts).toEqual([
      ['z1', '7', 'c1/1'],
      ['z2', '8', 'c3/1'],
      ['z3', '10', 'c5/1'],
      ['z4', '11', 'c7/1'],
      ['z5', '13', 'c8/1'],
      ['z6', '14', 'c10/1'],
    ]);
  });

  test('a resistor at the panel gives both figures: with it, and the field side alone', () => {
    expect(point('found.z1.rest').window.expected).toMatchObject({ nominal: expect.closeTo(2204.3, 1) });
    expect(point('lifted.z1.rest').window.expected).toMatchObject({ nominal: expect.closeTo(4.33, 2) });
    expect(point('lifted.z1.rest').between).toEqual(['c1/1', 'old:6']);
  });

  test('every stage of a zone that is split is read: found, lifted, bare, each pair, each input', () => {
    const ids = plan.points.filter(({ zone }) => zone === 'z1').map(({ id }) => id);
    for (const id of [
      'found.z1.rest',
      'found.z1.active.shutter',
      'lifted.z1.rest',
      'bare.z1.rest',
      'split.shutter.rest',
      'split.side-door.active.side-door',
      'landed.b1/1.rest',
      'landed.b1/2.rest',
    ])
      expect(ids).toContain(id);
  });

  test('where an unpowered detector holds the loop open nothing is judged of its contact', () => {
    const hall = plan.points.filter(({ zone }) => zone === 'z3');
    expect(hall.every(({ judgesContact, window }) => !judgesContact && window.usable === null)).toBe(true);
    expect(hall.some(({ id }) => id.includes('.active.'))).toBe(false);
    expect(point('split.hall.rest').window.expected).toBe('open');
    // How the glass-break stands without supply nobody knows.
    expect(point('split.hall-glass.rest').window.expected).toBeNull();
  });

  test('an expected reading has no cause behind it, at any point', () => {
    for (const { id, expression, with: states } of plan.points) {
      const { nominal } = evaluateLoop(expression, states);
      expect(causesAt(id, nominal), id).toEqual([]);
    }
  });

  test('what is wrong is named from the reading', () => {
    expect(causesAt('bare.z1.rest', 2204)).toContain('resistor-still-in');
    expect(causesAt('found.z1.rest', 4404)[0]).toBe('resistors-in-series');
    expect(causesAt('found.z1.rest', 4.3)).toContain('resistor-missing');
    expect(causesAt('split.shutter.rest', Number.POSITIVE_INFINITY)).toContain('contact-stuck-open');
    expect(causesAt('split.shutter.active.shutter', 2)).toContain('contact-bridged');
    // The galley's pair under the label of the pump pit: closed at rest where it should be open.
    expect(causesAt('bare.z6.rest', 2.1)).toContain('other-pair');
  });

  test('suspects carry names that everybody knows, and the neighbours are among them', () => {
    const { suspects } = point('lifted.z2.rest');
    for (const { cause } of suspects) expect(CAUSES).toHaveProperty(cause);
    const others = suspects.filter(({ cause }) => cause === 'other-pair').map(({ says }) => says);
    for (const zone of ['z1', 'z3', 'z4', 'z5', 'z6']) expect(others.join()).toContain(zone);
  });

  test('a zone that lies between life-safety wires is not read at all', () => {
    expect(plan.points.some(({ zone }) => zone === 'z7')).toBe(false);
  });
});
