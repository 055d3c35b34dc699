import { describe, expect, test } from 'vitest';
import {
  CABLE_FIELDS,
  OUTSIDE_FIELDS,
  questionFor,
  SITE_FIELDS,
  SOUNDER_FIELDS,
  zoneFields,
} from '../../source/screens/edit/fields.ts';
import { settle } from '../../source/screens/survey/question.ts';
import { inUnits } from '../../source/screens/units.ts';
import { withFieldUnit } from '../../source/site/field-units.ts';
import { drive } from './drive.ts';
import { smallJob } from './small-job.ts';

test('lengths on the plan follow the units that are set', () => {
  const shown = (units: 'metric' | 'imperial') => {
    const { press, pick, picture } = drive(smallJob(), { columns: 80, rows: 24 }, { units });
    press('enter', '1', 'enter', '2', 'enter', '0', '.', '4', 'enter', 'left');
    pick('plan');
    press('4');
    return picture();
  };
  expect(shown('metric')).toContain('18 m, measured, 22 AWG');
  // The international foot is 0.3048 m exactly (NIST Handbook 44, appendix C): 18 / 0.3048 = 59.06.
  expect(shown('imperial')).toContain('59.1 ft, measured, 22 AWG');
});

test('sentences in metres and degrees are told in feet, inches and °F; other figures stay', () => {
  const says = '0.15 m to spare at 20 °C, 2.2 MΩ, 15 mA, 4 mm² and 5 min';
  // 0.15 m / 0.0254 m = 5.91 in; 20 °C = 68 °F (NIST Handbook 44, appendix C).
  expect(inUnits(says, 'imperial')).toBe('5.91 in to spare at 68 °F, 2.2 MΩ, 15 mA, 4 mm² and 5 min');
  expect(inUnits(says, 'metric')).toBe(says);
});

describe('one field has one unit, wherever its figure is typed bare', () => {
  /** Every field that the editor asks a figure for, by a path of the survey. */
  const edited = [
    ...[...SITE_FIELDS, ...OUTSIDE_FIELDS].map((def) => ({ def, path: def.field })),
    ...zoneFields([['door', 'Door']], 'two-resistor').map((def) => ({ def, path: `zones.z1.${def.field}` })),
    ...CABLE_FIELDS.map((def) => ({ def, path: `cables.c1.${def.field}` })),
    ...SOUNDER_FIELDS.map((def) => ({ def, path: `sounders.gable.${def.field}` })),
  ].filter(({ def: { by } }) => typeof by === 'object' && 'of' in by);

  test.each(edited.map(({ def, path }) => [path, def] as const))('%s', (path, def) => {
    for (const units of ['metric', 'imperial'] as const) {
      const entered = settle(questionFor(def, 'id', 'about', null), '12', units);
      const corrected = withFieldUnit(path, '12', units);
      // Where the editor wants the unit typed, a correction does not make one up.
      expect(corrected, units).toBe(entered.ok ? entered.value : '12');
    }
  });

  test('a bare length follows the units that are set; time wants its unit, and never becomes a current', () => {
    expect(withFieldUnit('cables.c1.length', '60', 'imperial')).toBe('60 ft');
    expect(withFieldUnit('panel.slack', '0.2', 'metric')).toBe('0.2 m');
    expect(withFieldUnit('panel.slack', '8', 'imperial')).toBe('8 ft');
    expect(withFieldUnit('policy.alarm', '15', 'metric')).toBe('15');
    expect(withFieldUnit('detectors.hall.supply.alarm', '15', 'metric')).toBe('15 mA');
    expect(withFieldUnit('zones.z1.name', '15', 'metric')).toBe('15');
    expect(withFieldUnit('cables.c1.length', '60 ft', 'metric')).toBe('60 ft');
  });
});
