import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyCorrection } from '../../source/site/correct-survey.ts';
import { type FoundContact, learnContact } from '../../source/site/found-contact.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { wiringAsFound } from '../../source/site/wiring-as-found.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

const demo = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');
const WINDOW = { name: 'Window on the stairs', kind: 'window-contact' } as const;
const CABLE = { length: '4 m', conductor: '22 AWG' };

function learned(text: string, found: FoundContact) {
  const before = parseSurvey(text, 'survey.yaml');
  if (!before.ok) throw new Error(JSON.stringify(before.problems));
  const told = learnContact(before.survey, found);
  const after = applyCorrection(text, told.changes);
  if (!after.ok) throw new Error(`${found.beside}: ${JSON.stringify(after.problems)}`);
  return { ...told, before: before.survey, survey: after.survey, wiring: wiringAsFound(after.survey) };
}

describe('a contact that was found', () => {
  test('beside a lone one of a zone joined at the panel shares its pair, and leaves the other on its own', () => {
    const { survey, wiring } = learned(demo, { ...WINDOW, beside: 'shutter', cable: CABLE });
    const zone = survey.zones[0]!;
    expect(zone.detectors).toEqual(['shutter', 'side-door', 'found']);
    expect(zone.fieldSets).toEqual([['shutter', 'found']]);
    expect(survey.cables.find(({ id }) => id === 'found-cable')?.from).toBe('c1');
    const [shutter, found] = ['shutter', 'found'].map(
      (id) => wiring.contacts.find(({ detector }) => detector === id)!,
    );
    const way = wiring.conductors.find(({ id }) => id === 'found-cable/1')!;
    expect([way.near, way.far]).toEqual([shutter!.b, found!.a]);
  });

  test('on the cable of a powered detector takes no supply from it', () => {
    const { survey } = learned(demo, { ...WINDOW, beside: 'loft', cable: null });
    expect(survey.detectors.find(({ id }) => id === 'found')).toMatchObject({ supply: null, cable: 'c7' });
    expect(survey.zones[3]?.loop.resistorAt).toEqual({ detector: 'loft', by: 'jumper' });
  });

  test('lies across a loop that does, and a second one takes another name', () => {
    const first = learned(demo, { ...WINDOW, beside: 'pit', cable: CABLE });
    expect(first.wiring.contacts.at(-1)?.sense).toBe('normally-open');
    const text = applyCorrection(demo, first.changes);
    if (!text.ok) throw new Error('the first is not learned');
    const second = learned(text.text, { ...WINDOW, beside: 'found', cable: CABLE });
    expect([second.id, second.cable]).toEqual(['found-2', 'found-cable-2']);
    expect(second.survey.zones[5]?.fieldSets).toEqual([['pit', 'found', 'found-2']]);
  });

  const sites = scale(1000, 0.05);
  test(`can be learned on ${sites} random sites, beside a contact that has no resistor of its own (seeds from 1)`, () => {
    let count = 0;
    for (let seed = 1; seed <= sites; seed++) {
      const { text, survey } = randomSurvey(seed);
      const { id } = survey.detectors[seed % survey.detectors.length]!;
      const told = learned(text, { ...WINDOW, beside: id, cable: seed % 3 === 0 ? null : CABLE });
      if (told.id === null) {
        expect(
          told.survey.detectors.filter(({ name }) => name.endsWith(', and Window on the stairs')).length,
        ).toBe(1);
        continue;
      }
      count += 1;
      expect(told.survey.detectors.length).toBe(survey.detectors.length + 1);
      const ends = (one: typeof survey) => one.zones.map(({ loop }) => loop.resistorAt);
      expect(ends(told.survey)).toEqual(ends(told.before));
    }
    expect(count).toBeGreaterThan(sites / 2);
  });
});
