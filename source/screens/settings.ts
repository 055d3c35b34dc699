import { isAsciiLocale } from './terminal/shown-text.ts';

/** What a person may set for the screens. Nothing here opens a gate. */
export type ScreenSettings = {
  readonly palette: 'dark' | 'light' | 'none';
  readonly glyphs: 'unicode' | 'ascii';
  readonly units: 'metric' | 'imperial';
  /** Whether the terminal rings when a detector is heard. */
  readonly bell: 'on' | 'off';
};

export const DEFAULT_SETTINGS: ScreenSettings = {
  palette: 'dark',
  glyphs: 'unicode',
  units: 'metric',
  bell: 'on',
};

/**
 * The settings as the terminal can show them: `NO_COLOR` (any value, no-color.org) and a dumb terminal take
 * the colour away, a locale without UTF-8 the drawn signs.
 */
export function settingsFor(
  settings: ScreenSettings,
  environment: Readonly<Record<string, string | undefined>>,
): ScreenSettings {
  const dumb = environment.TERM === 'dumb';
  const colourless = dumb || (environment.NO_COLOR ?? '') !== '';
  const ascii = dumb || isAsciiLocale(environment);
  return {
    ...settings,
    ...(colourless && { palette: 'none' }),
    ...(ascii && { glyphs: 'ascii' }),
  };
}
