import { describe, expect, test } from 'vitest';
import { DETECTOR_KINDS, type Survey } from '../../source/site/survey.ts';
import { USES } from '../../source/site/survey-file.ts';
import { randomSurvey, randomSurveyText } from '../random-survey.ts';
import { report, scale } from '../scale.ts';

// What other checks rest on must itself be varied: a branch that no random survey takes is checked by none.
describe('random surveys', () => {
  const surveys = Array.from({ length: scale(3000, 0.15) }, (_, seed) => randomSurvey(seed).survey);
  const counted = (of: (survey: Survey) => readonly (string | number | null)[]) => {
    const counts = new Map<string, number>();
    for (const key of surveys.flatMap(of)) counts.set(String(key), (counts.get(String(key)) ?? 0) + 1);
    return counts;
  };
  const zones = (of: (zone: Survey['zones'][number]) => string) => counted((survey) => survey.zones.map(of));

  test('have every style, every way of joining and every place of a resistor', () => {
    const styles = zones((zone) => zone.loop.style);
    expect([...styles.keys()].sort()).toEqual([
      'across',
      'bridged',
      'mixed',
      'plain',
      'series',
      'two-resistor',
    ]);
    const joins = zones(({ joined, fieldSets }) =>
      joined === 'panel' && fieldSets.length > 0 ? 'partly' : joined,
    );
    expect([...joins.keys()].sort()).toEqual(['field', 'panel', 'partly', 'single']);
    const places = zones(({ loop: { resistorAt } }) =>
      typeof resistorAt === 'object' ? (resistorAt?.by ?? 'none') : resistorAt,
    );
    expect([...places.keys()].sort()).toEqual(['jumper', 'none', 'panel', 'part', 'unknown']);
    report('zones of random surveys', [
      Object.fromEntries(styles),
      Object.fromEntries(joins),
      Object.fromEntries(places),
    ]);
  });

  test('have every kind of detector and every use of a core', () => {
    const kinds = counted((survey) => survey.detectors.map((detector) => detector.kind));
    expect(DETECTOR_KINDS.filter((kind) => !kinds.has(kind))).toEqual([]);
    const uses = counted((survey) => survey.cables.flatMap((cable) => cable.cores.map((core) => core.use)));
    expect(USES.filter((use) => !uses.has(use))).toEqual([]);
    const contacts = counted((survey) => survey.detectors.map((detector) => detector.contact));
    expect([...contacts.keys()].sort()).toEqual([
      'changeover',
      'normally-closed',
      'normally-open',
      'unknown',
    ]);
    report('detectors of random surveys', [Object.fromEntries(kinds), Object.fromEntries(contacts)]);
  });

  test('have every feed, sounder, tamper, keypad, line, other supply, output and number of boards', () => {
    const seen = counted((survey) => [
      `feed ${survey.outside.feed}`,
      ...survey.sounders.map((sounder) => `sounder ${sounder.wiring}`),
      ...survey.detectors.map((detector) => `tamper ${detector.tamper}`),
      ...survey.keypads.map((keypad) => `keys ${keypad.emergencyKeys}`),
      ...survey.outputs.map((output) => `output ${output.voltage}`),
      `supplies ${survey.supplies.length}`,
      `boards ${Math.min(3, survey.boards.length)}`,
    ]);
    for (const key of [
      ...['plug-in-transformer', 'dc-adapter', 'hard-wired-transformer', 'mains-in-enclosure', 'unknown'].map(
        (feed) => `feed ${feed}`,
      ),
      ...['two-wire', 'hold-off', 'unknown'].map((wiring) => `sounder ${wiring}`),
      ...['none', 'in-loop', 'own'].map((tamper) => `tamper ${tamper}`),
      ...['none', 'fire', 'medical', 'panic', 'unknown'].map((keys) => `keys ${keys}`),
      ...['extra-low', 'mains', 'unknown'].map((voltage) => `output ${voltage}`),
      ...['supplies 0', 'supplies 1', 'boards 1', 'boards 2', 'boards 3'],
    ]) {
      expect(seen.has(key), key).toBe(true);
    }
  });

  test('are the same for the same seed, as large as asked for, and free of what is not wanted', () => {
    expect(randomSurveyText(7)).toBe(randomSurveyText(7));
    expect(randomSurveyText(7)).not.toBe(randomSurveyText(8));
    for (let seed = 0; seed < 20; seed += 1) {
      const { survey } = randomSurvey(seed, {
        zones: 12,
        detectors: 40,
        lifeSafety: false,
        tampers: false,
        unknowns: false,
      });
      expect([
        survey.zones.length,
        survey.detectors.length,
        survey.tampers.filter(({ id }) => id === 't1').length,
      ]).toEqual([12, 40, 0]);
      expect(survey.cables.filter((cable) => cable.lengthKnown === 'unknown')).toEqual([]);
    }
  });
});
