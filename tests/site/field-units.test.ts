import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { parseQuantity } from '../../source/electrical/quantity.ts';
import { quantityOfField } from '../../source/site/field-units.ts';
import { randomSurveyText } from '../random-survey.ts';

/** Every text of a survey's file with its path, entries by id where they have one. */
function leavesOf(value: unknown, path: readonly string[] = []): [string, string][] {
  if (typeof value === 'string') return [[path.join('.'), value]];
  if (Array.isArray(value))
    return value.flatMap((one, at) =>
      leavesOf(one, [...path, typeof one?.id === 'string' ? one.id : String(at + 1)]),
    );
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf(inner, [...path, key]));
}

const demo = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');
const texts = [demo, ...Array.from({ length: 60 }, (_, seed) => randomSurveyText(seed))];
/** A figure with a unit, as files write it; a conductor's size and a name may begin with a digit as well. */
const FIGURE = /^[-+]?\d+([.,]\d+)? ?(ohm|kohm|Mohm|Ω|k|V|mV|A|mA|m|ft|mm|cm|in|Ah|mAh|h|min|s|ms|°C|°F|%)$/;
const WORDS = /(^|\.)(conductor|installed|name|reference|terminals|colour)(\.|$)/;

describe('the table of units a field', () => {
  const leaves = texts.flatMap((text) => leavesOf(parse(text)));
  const figures = leaves.filter(([path, value]) => FIGURE.test(value) && !WORDS.test(path));

  test('knows every field in which a survey holds a figure with a unit', () => {
    expect(figures.length).toBeGreaterThan(1000);
    const unknown = new Set(figures.filter(([path]) => quantityOfField(path) === null).map(([path]) => path));
    expect([...unknown]).toEqual([]);
  });

  test('has each right: what a survey holds there is such a quantity', () => {
    for (const [path, value] of figures) {
      const kind = quantityOfField(path);
      expect(kind && parseQuantity(value, kind).ok, `${path}: ${value}`).toBe(true);
    }
  });
});
