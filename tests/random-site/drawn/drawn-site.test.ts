import { describe, expect, test } from 'vitest';
import { parseSurvey, problemToText } from '../../../source/site/parse-survey.ts';
import { wiringAsFound } from '../../../source/site/wiring-as-found.ts';
import type { Wiring } from '../../../source/wiring/wiring.ts';
import { report, scale } from '../../scale.ts';
import { placesOf } from './called.ts';
import { drawSite } from './drawn-site.ts';

const sites = scale(2000, 0.03);

function read(seed: number, unknowns = false) {
  const { text, building } = drawSite(seed, { unknowns });
  const parsed = parseSurvey(text, 'survey.yaml');
  if (!parsed.ok) throw new Error(`seed ${seed}: ${parsed.problems.map(problemToText).join('\n')}\n${text}`);
  return { survey: parsed.survey, wiring: wiringAsFound(parsed.survey), building };
}

describe('a survey that was written down from a building', () => {
  // Independent: the building was drawn wire by wire, and nothing of it was made from the survey.
  test(`is read as the building it was written from, for ${sites} of them (seeds from 1)`, () => {
    const counts: Record<string, number> = {};
    const count = (what: string) => {
      counts[what] = (counts[what] ?? 0) + 1;
    };
    for (let seed = 1; seed <= sites; seed++) {
      const { survey, wiring, building } = read(seed);
      expect({ seed, misread: placesOf(wiring, building).misread }).toEqual({ seed, misread: [] });
      for (const { loop } of [...survey.zones, ...survey.tampers]) {
        count(loop.style);
        const { resistorAt: at } = loop;
        count(`resistor ${typeof at === 'object' && at !== null ? at.by : (at ?? 'none')}`);
      }
    }
    expect(Object.keys(counts)).toEqual(
      expect.arrayContaining([
        'plain',
        'series',
        'across',
        'mixed',
        'two-resistor',
        'bridged',
        'resistor jumper',
      ]),
    );
    report('Loops drawn before they were written down', [counts]);
  }, 600_000);

  test('of which not all is known can be read too (seeds from 1)', () => {
    for (let seed = 1; seed <= sites / 4; seed++) expect(() => read(seed, true)).not.toThrow();
  }, 600_000);

  test('is found out where it is read otherwise: two ends exchanged, one end elsewhere, a resistor unseen', () => {
    const { wiring, building } = read(7);
    const [first, second] = wiring.conductors.filter(({ use }) => use === 'loop');
    const changed = (change: (one: Wiring['conductors'][number]) => object): Wiring => ({
      ...wiring,
      conductors: wiring.conductors.map((one) => ({ ...one, ...change(one) })),
    });
    const swapped = changed(({ id }) =>
      id === first!.id ? { far: second!.far } : id === second!.id ? { far: first!.far } : {},
    );
    const moved = changed(({ id }) => (id === first!.id ? { near: 'old:1' } : {}));
    for (const misreading of [moved, { ...wiring, resistors: wiring.resistors.slice(1) }])
      expect(placesOf(misreading, building).misread).not.toEqual([]);
    // Exchanged ends of one pair make the same places under exchanged names, unless something else is there.
    expect(placesOf(swapped, building).called(first!.far)).not.toBe(
      placesOf(wiring, building).called(first!.far),
    );
  });
});
