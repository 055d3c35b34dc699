import { describe, expect, test } from 'vitest';
import { GLYPHS } from '../../source/screens/draw/glyphs.ts';
import { widthOf } from '../../source/screens/draw/line.ts';
import { contrast, PALETTES, TONES } from '../../source/screens/draw/palette.ts';
import { DEFAULT_SETTINGS, settingsFor } from '../../source/screens/settings.ts';
import { SUPPLY_WORDS } from '../../source/screens/words.ts';
import { report } from '../scale.ts';

describe('contrast', () => {
  test('is computed as WCAG 2.2 defines it', () => {
    // WCAG 2.2, "contrast ratio": black on white is 21:1. Its note on #767676, the lightest grey with 4.5:1 on white,
    // is in WAI's "Understanding SC 1.4.3".
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#767676', '#ffffff')).toBeGreaterThanOrEqual(4.5);
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
  });

  test.each(['dark', 'light'] as const)('of text is 7:1 and of marks 3:1 on the %s background', (name) => {
    const { background, text, tones } = PALETTES[name];
    const rows = TONES.map((tone) => ({ palette: name, tone, ratio: contrast(tones[tone]!, background) }));
    report(`contrast of the ${name} palette`, rows);
    // WCAG 2.2 SC 1.4.6 (enhanced) for text, SC 1.4.11 for marks.
    expect(contrast(text, background)).toBeGreaterThanOrEqual(7);
    expect(contrast(tones.quiet!, background)).toBeGreaterThanOrEqual(7);
    for (const { ratio } of rows) expect(ratio).toBeGreaterThanOrEqual(3);
  });

  test('supply words are bold text in their colour, so they keep 4.5:1 as well', () => {
    for (const { background, tones } of [PALETTES.dark, PALETTES.light]) {
      for (const { tone } of Object.values(SUPPLY_WORDS)) {
        expect(contrast(tones[tone]!, background)).toBeGreaterThanOrEqual(4.5);
      }
    }
  });
});

test('every sign takes one column, and has a stand-in of one ASCII sign', () => {
  for (const [name, sign] of Object.entries(GLYPHS.unicode))
    if (name !== 'name') expect(widthOf(sign)).toBe(1);
  for (const [name, sign] of Object.entries(GLYPHS.ascii))
    if (name !== 'name') expect(sign).toMatch(/^[\x21-\x7e]$/);
});

describe('the terminal decides what can be shown', () => {
  test('NO_COLOR and a dumb terminal take the colour away', () => {
    expect(settingsFor(DEFAULT_SETTINGS, { NO_COLOR: '1', LANG: 'C.UTF-8' }).palette).toBe('none');
    // no-color.org: only a value that is not empty counts.
    expect(settingsFor(DEFAULT_SETTINGS, { NO_COLOR: '', LANG: 'C.UTF-8' }).palette).toBe('dark');
    expect(settingsFor(DEFAULT_SETTINGS, { TERM: 'dumb' })).toMatchObject({
      palette: 'none',
      glyphs: 'ascii',
    });
  });

  test('a locale without UTF-8 takes the drawn signs away', () => {
    expect(settingsFor(DEFAULT_SETTINGS, { LANG: 'C' }).glyphs).toBe('ascii');
    expect(settingsFor(DEFAULT_SETTINGS, { LANG: 'C', LC_ALL: 'nl_NL.utf8' }).glyphs).toBe('unicode');
  });
});
