/** The series of preferred values of IEC 60063, coarsest first. */
export const SERIES_NAMES = ['E3', 'E6', 'E12', 'E24', 'E48', 'E96'] as const;
export type SeriesName = (typeof SERIES_NAMES)[number];

const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];
/** E48 and E96 follow the rounded geometric formula; E24 and coarser are a list (IEC 60063). */
const E96 = Array.from({ length: 96 }, (_, at) => Math.round(100 * 10 ** (at / 96)));
const every = (list: readonly number[], step: number) => list.filter((_, at) => at % step === 0);

/** The values of one decade, three figures each: 220 for 2.2. */
export const DECADES: Record<SeriesName, readonly number[]> = {
  E3: every(E24, 8).map((two) => two * 10),
  E6: every(E24, 4).map((two) => two * 10),
  E12: every(E24, 2).map((two) => two * 10),
  E24: E24.map((two) => two * 10),
  E48: every(E96, 2),
  E96,
};

/**
 * The coarsest series a value belongs to, `null` if it is in none.
 *
 * @example seriesOf(4700) // => 'E3'
 * @example seriesOf(64000) // => null
 */
export function seriesOf(ohms: number): SeriesName | null {
  return SERIES_NAMES.find((name) => isPreferred(ohms, name)) ?? null;
}

/**
 * Whether a value is one of a series.
 *
 * @example isPreferred(4700, 'E96') // => false
 */
export function isPreferred(ohms: number, series: SeriesName): boolean {
  if (!(ohms > 0) || !Number.isFinite(ohms)) return false;
  const decade = 10 ** (Math.floor(Math.log10(ohms) + 1e-12) - 2);
  return DECADES[series].includes(Number((ohms / decade).toPrecision(9)));
}

/**
 * All values of a series from one figure to another, rising.
 *
 * @example preferredValues('E12', 1000, 2000) // => [1000, 1200, 1500, 1800]
 */
export function preferredValues(series: SeriesName, minOhms: number, maxOhms: number): readonly number[] {
  const values: number[] = [];
  for (let power = Math.floor(Math.log10(minOhms)); 10 ** power <= maxOhms; power++) {
    for (const figures of DECADES[series]) {
      const ohms = Number((figures * 10 ** (power - 2)).toPrecision(6));
      if (ohms >= minOhms && ohms <= maxOhms) values.push(ohms);
    }
  }
  return values;
}

/**
 * The nearest values of a series on either side of a figure; the figure itself where it is one.
 *
 * @example preferredNeighbours(5000, 'E24') // => {below: 4700, above: 5100}
 */
export function preferredNeighbours(ohms: number, series: SeriesName): { below: number; above: number } {
  const near = preferredValues(series, ohms / 10, ohms * 10);
  return {
    below: near.filter((value) => value <= ohms * (1 + 1e-9)).at(-1)!,
    above: near.find((value) => value >= ohms * (1 - 1e-9))!,
  };
}
