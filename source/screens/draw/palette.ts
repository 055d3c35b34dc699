/** What a colour stands for. Screens name tones, never colours. */
export const TONES = [
  'quiet',
  'live',
  'dead',
  'unproven',
  'energised',
  'caution',
  'good',
  'bad',
  'focus',
] as const;
export type Tone = (typeof TONES)[number];

export type Palette = {
  readonly name: 'dark' | 'light' | 'none';
  /** The background and foreground it is meant for: the terminal's own are never set. */
  readonly background: string;
  readonly text: string;
  /** Empty without colour: everything is then said by words and glyphs alone. */
  readonly tones: Readonly<Partial<Record<Tone, string>>>;
};

/** `quiet` is still text and keeps 7:1; the others mark and keep 3:1 at least. Checked by a test. */
export const PALETTES: Readonly<Record<Palette['name'], Palette>> = {
  dark: {
    name: 'dark',
    background: '#14181b',
    text: '#e6e4dc',
    tones: {
      quiet: '#b4b8b4',
      live: '#ff8a70',
      dead: '#79c7a0',
      unproven: '#f2c14e',
      energised: '#e3a0e8',
      caution: '#f2c14e',
      good: '#79c7a0',
      bad: '#ff8a70',
      focus: '#8cc4f0',
    },
  },
  light: {
    name: 'light',
    background: '#fbfaf5',
    text: '#1b1f22',
    tones: {
      quiet: '#474d51',
      live: '#a8321f',
      dead: '#0f6b43',
      unproven: '#7a5200',
      energised: '#7a2a86',
      caution: '#7a5200',
      good: '#0f6b43',
      bad: '#a8321f',
      focus: '#1a4f8c',
    },
  },
  none: { name: 'none', background: '#000000', text: '#ffffff', tones: {} },
};

/**
 * Contrast of two colours, 1 to 21: WCAG 2.2, "contrast ratio" and "relative luminance".
 *
 * @example contrast('#000000', '#ffffff') // => 21
 */
export function contrast(a: string, b: string): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Wire colours as swatches, named beside: the names people write in surveys. */
const WIRE_COLOURS: Readonly<Record<string, string>> = {
  white: '#f4f4f0',
  brown: '#8a5a2b',
  red: '#d83a34',
  black: '#2b2b2b',
  yellow: '#f0d13a',
  green: '#3aa35a',
  blue: '#3f78d0',
  orange: '#f08a24',
  violet: '#9457b8',
  purple: '#9457b8',
  grey: '#909090',
  gray: '#909090',
  pink: '#f0a0b8',
};

/** What a conductor's swatch is painted with; undefined without colour, or where the name tells none. */
export function wireColour(name: string, palette: Palette): string | undefined {
  if (palette.name === 'none') return undefined;
  const first = name.toLowerCase().split(/[^a-z]/)[0] ?? '';
  return WIRE_COLOURS[first];
}
