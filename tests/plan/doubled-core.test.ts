import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { shippedBoard } from '../random-survey.ts';

const demo = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');

/** Nominal ohms at a measuring point. */
function nominalOhms(text: string, id: string): number {
  const read = parseSurvey(text, 'survey.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  const point = planChangeover(read.survey, [shippedBoard('eight-paired')]).points.find(
    (one) => one.id === id,
  );
  const expected = point?.window.expected;
  if (typeof expected !== 'object' || expected === null) throw new Error(`There is no figure for ${id}.`);
  return expected.nominal;
}

// By hand: two equal cores side by side are worth half of one, so that out and back are worth three quarters of a pair.
test('a doubled core counts while it lies under one screw with its mate, and no more once each end is insulated', () => {
  const doubled = demo.replace(
    '      - {colour: brown, use: loop}\n  - id: c2',
    '      - {colour: brown, use: loop}\n      - {colour: green, use: doubled}\n  - id: c2',
  );
  expect(doubled).not.toBe(demo);
  expect(nominalOhms(doubled, 'split.shutter.rest')).toBe(nominalOhms(demo, 'split.shutter.rest'));
  const pair = nominalOhms(demo, 'split.shutter.rest') - 0.1;
  const saved = nominalOhms(demo, 'lifted.z1.rest') - nominalOhms(doubled, 'lifted.z1.rest');
  expect(saved).toBeCloseTo(pair / 4, 6);
});
