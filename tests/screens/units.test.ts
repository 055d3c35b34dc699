import { expect, test } from 'vitest';
import { withUnit } from '../../source/screens/form/correctable.ts';
import { inUnits } from '../../source/screens/units.ts';
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

test('a bare length in a correction is in the units that are set', () => {
  expect(withUnit('cables.c1.length', '60', 'imperial')).toBe('60 ft');
  expect(withUnit('cables.c1.length', '60')).toBe('60 m');
});
