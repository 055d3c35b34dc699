import type { Parsed } from './parsed.ts';

/**
 * Colours of IEC 60062: digit, multiplier, tolerance, temperature coefficient. Digits, multipliers,
 * tolerances and coefficients as in the 2005 edition; pink, and orange and yellow as tolerances, came in
 * 2016. For grey as a tolerance the editions differ (0.05 % then 0.01 %): the larger one stands here.
 */
const COLOURS = {
  pink: { digit: null, power: -3, tolerance: null, perKelvinPpm: null },
  silver: { digit: null, power: -2, tolerance: 0.1, perKelvinPpm: null },
  gold: { digit: null, power: -1, tolerance: 0.05, perKelvinPpm: null },
  black: { digit: 0, power: 0, tolerance: null, perKelvinPpm: 250 },
  brown: { digit: 1, power: 1, tolerance: 0.01, perKelvinPpm: 100 },
  red: { digit: 2, power: 2, tolerance: 0.02, perKelvinPpm: 50 },
  orange: { digit: 3, power: 3, tolerance: 0.0005, perKelvinPpm: 15 },
  yellow: { digit: 4, power: 4, tolerance: 0.0002, perKelvinPpm: 25 },
  green: { digit: 5, power: 5, tolerance: 0.005, perKelvinPpm: 20 },
  blue: { digit: 6, power: 6, tolerance: 0.0025, perKelvinPpm: 10 },
  violet: { digit: 7, power: 7, tolerance: 0.001, perKelvinPpm: 5 },
  grey: { digit: 8, power: 8, tolerance: 0.0005, perKelvinPpm: 1 },
  white: { digit: 9, power: 9, tolerance: null, perKelvinPpm: null },
} as const;

export type Colour = keyof typeof COLOURS;

const OTHER_WORDS: Record<string, Colour> = { gray: 'grey', purple: 'violet', golden: 'gold' };
const COLOUR_NAMES = Object.keys(COLOURS) as Colour[];

/** Three bands say nothing of tolerance: 20 % by IEC 60062. */
const NO_BAND_TOLERANCE = 0.2;

/** What the bands of one resistor say, read in the order of `bands`. */
export type BandReading = {
  readonly bands: readonly Colour[];
  readonly ohms: number;
  /** Fraction. */
  readonly tolerance: number;
  readonly perKelvinPpm: number | null;
};

/**
 * Reads the words for the bands, in any spelling of a colour, separated by spaces, commas or dashes.
 *
 * @example parseColours('yellow violet red gold') // => {ok: true, value: ['yellow', 'violet', 'red', 'gold']}
 */
export function parseColours(text: string): Parsed<readonly Colour[]> {
  const words = text
    .toLowerCase()
    .split(/[\s,;/-]+/)
    .filter(Boolean);
  const bands = words.map((word) => OTHER_WORDS[word] ?? word);
  const strange = bands.find((word) => !(word in COLOURS));
  if (strange !== undefined) {
    return {
      ok: false,
      says: `"${strange}" is no colour of a resistor band. Write ${COLOUR_NAMES.join(', ')}.`,
    };
  }
  if (bands.length < 3 || bands.length > 6) {
    return {
      ok: false,
      says: `A resistor has 3 to 6 bands and ${bands.length} were named. Name every band.`,
    };
  }
  return { ok: true, value: bands as Colour[] };
}

/**
 * Reads 3 to 6 bands. A resistor can lie either way round, so the bands are read from both ends: first as
 * given, and turned round where that is a reading too. Most bands allow only one.
 *
 * @returns one or two readings, the order as given first
 * @example readBands(['yellow', 'violet', 'red', 'gold']) // => {ok: true, value: [{bands: ['yellow', 'violet', 'red', 'gold'], ohms: 4700, tolerance: 0.05, perKelvinPpm: null}]}
 */
export function readBands(bands: readonly Colour[]): Parsed<readonly BandReading[]> {
  const turned = [...bands].reverse();
  const isSame = turned.every((colour, at) => colour === bands[at]);
  const readings = (isSame ? [bands] : [bands, turned]).map(readOneWay).filter((one) => one !== null);
  if (readings.length > 0) return { ok: true, value: readings };
  return {
    ok: false,
    says: `${bands.join(' ')} is no value from either end. Look again: gold and silver are never digits.`,
  };
}

function readOneWay(bands: readonly Colour[]): BandReading | null {
  const digitCount = bands.length >= 5 ? 3 : 2;
  const digits = bands.slice(0, digitCount).map((colour) => COLOURS[colour].digit);
  const power = COLOURS[bands[digitCount]!].power;
  const toleranceBand = bands[digitCount + 1];
  const tolerance = toleranceBand ? COLOURS[toleranceBand].tolerance : NO_BAND_TOLERANCE;
  const coefficientBand = bands[digitCount + 2];
  const perKelvinPpm = coefficientBand ? COLOURS[coefficientBand].perKelvinPpm : null;
  if (digits.includes(null) || tolerance === null) return null;
  if (digits[0] === 0 || (coefficientBand && perKelvinPpm === null)) return null;
  const figures = Number(digits.join(''));
  return { bands, ohms: Number(`${figures}e${power}`), tolerance, perKelvinPpm };
}

/**
 * The bands that say a value: four where two figures are enough, else five.
 *
 * @returns `null` for a value or tolerance that no bands can say
 * @example bandsOf(4700, 0.05) // => ['yellow', 'violet', 'red', 'gold']
 */
export function bandsOf(ohms: number, tolerance: number): readonly Colour[] | null {
  const last = COLOUR_NAMES.find((name) => COLOURS[name].tolerance === tolerance);
  if (!(ohms > 0) || !Number.isFinite(ohms) || (last === undefined && tolerance !== NO_BAND_TOLERANCE)) {
    return null;
  }
  for (const count of [2, 3]) {
    const [mantissa = '', exponent = ''] = ohms.toExponential(count - 1).split('e');
    const power = Number(exponent) - (count - 1);
    const multiplier = COLOUR_NAMES.find((name) => COLOURS[name].power === power);
    if (Math.abs(Number(`${mantissa}e${exponent}`) / ohms - 1) > 1e-9 || multiplier === undefined) continue;
    const digits = [...mantissa.replace('.', '')].map(
      (digit) => COLOUR_NAMES.find((name) => COLOURS[name].digit === Number(digit))!,
    );
    return [...digits, multiplier, ...(last === undefined ? [] : [last])];
  }
  return null;
}
