import type { Interval } from './interval.ts';
import type { Parsed } from './quantity.ts';

/** A copper conductor by its size. `name` is how it was written and how it is shown: `22 AWG`, `0.22 mm2`. */
export type Conductor = {
  readonly name: string;
  readonly areaSquareMillimetres: number;
  readonly system: 'awg' | 'metric';
};

/** Annealed copper at 20 °C, Ω·mm²/m, and its temperature coefficient per kelvin: IEC 60028 (1925). */
export const COPPER = { resistivity: 0.017241, perKelvin: 0.00393, atCelsius: 20 } as const;

/** Aluminium with a copper skin conducts 62-68 % as well: an explanation for a reading, never an assumption. */
export const COPPER_CLAD_FACTOR = 1.5;

/** How far a length may be off, as a fraction. Estimates by eye: common practice, no source. */
export const LENGTH_TOLERANCE = { measured: 0.05, estimated: 0.3, unknown: 1 } as const;

/** What stranding adds to the resistance of a solid conductor: NFPA 70 Ch. 9 Table 8, 3.14 against 3.07 Ω/kft. */
const STRANDING_FACTOR = 1.025;

/**
 * Highest resistance a maker may deliver at 20 °C, Ω/km by mm². 0.5 to 1.5: IEC 60228:2004 class 5, plain;
 * 0.14 to 0.34: DIN VDE 0295 extract. Tinned strands are 3 % higher, well inside the doubt of any length.
 */
const MAX_OHMS_PER_KILOMETRE: readonly (readonly [area: number, ohms: number])[] = [
  [0.14, 134],
  [0.22, 96],
  [0.25, 76],
  [0.34, 53],
  [0.5, 39],
  [0.75, 26],
  [1, 19.5],
  [1.5, 13.3],
];

/** Strands make an area that is a little off its name: 7/0.25 is 0.344 mm² and sold as 0.34 (from memory). */
const SAME_SIZE = 0.02;

/** For metric sizes outside the table: the largest allowance in it, that of 0.22 mm². */
const METRIC_ALLOWANCE = (96 * 0.22) / (COPPER.resistivity * 1000);

/**
 * Diameter of an American wire gauge size, ASTM B258 unrounded: 0.005 in × 92^((36 − n)/39).
 *
 * @param gauge 0 for 1/0, −1 for 2/0, −3 for 4/0
 * @example awgDiameterMillimetres(36) // => 0.127
 */
export function awgDiameterMillimetres(gauge: number): number {
  return 0.005 * 25.4 * 92 ** ((36 - gauge) / 39);
}

/**
 * A size of the American wire gauge as a conductor.
 *
 * @param gauge 0 for 1/0, −1 for 2/0
 * @example awgConductor(22) // => {name: '22 AWG', areaSquareMillimetres: 0.32553, system: 'awg'}
 */
export function awgConductor(gauge: number): Conductor {
  const diameter = awgDiameterMillimetres(gauge);
  const size = gauge > 0 ? String(gauge) : `${1 - gauge}/0`;
  return { name: `${size} AWG`, areaSquareMillimetres: (Math.PI / 4) * diameter ** 2, system: 'awg' };
}

const AWG = /^(?:awg\s*#?|#)?\s*(\d{1,2}|[1-4]\/0)\s*(?:awg|ga\.?|gauge|g)?$/i;
const STRANDS = /^(\d{1,3})\s*[/×x]\s*(\d?[.,]\d+)\s*(?:mm)?$/i;
const AREA = /^(\d+(?:[.,]\d+)?)\s*(?:mm2|mm²|mm\^2|sq\.?\s*mm|sqmm)\s*(?:\(([^)]*)\))?$/i;

/**
 * Reads a conductor's size as people write it: `22 AWG`, `22ga`, `AWG 22`, `#22`, `0.22 mm2`, `0.22 mm²`,
 * `7/0.2` (strands by their diameter in mm), `0.22 mm2 (7/0.2)`. A bare number is refused.
 *
 * @example parseConductor('0.22 mm²') // => {ok: true, value: {name: '0.22 mm2', areaSquareMillimetres: 0.22, system: 'metric'}}
 * @example parseConductor('22') // => {ok: false, says: '"22" could be a gauge or an area. Write a size such as 22 AWG, 0.22 mm2 or 7/0.2.'}
 */
export function parseConductor(text: string): Parsed<Conductor> {
  const written = text.trim();
  const refuse = (why: string): Parsed<Conductor> => ({
    ok: false,
    says: `"${written}" ${why}. Write a size such as 22 AWG, 0.22 mm2 or 7/0.2.`,
  });
  const awg = AWG.exec(written);
  if (awg && /[a-z#]/i.test(written)) {
    const size = awg[1] ?? '';
    const gauge = size.includes('/') ? 1 - Number(size[0]) : Number(size);
    if (gauge > 40) return refuse('is finer than any installation cable');
    return { ok: true, value: awgConductor(gauge) };
  }
  const strands = STRANDS.exec(written);
  if (strands) {
    const area = Number(strands[1]) * (Math.PI / 4) * decimal(strands[2]) ** 2;
    return metric(area, `${Number(area.toPrecision(2))} mm2 (${strands[1]}/${decimal(strands[2])})`, refuse);
  }
  const area = AREA.exec(written);
  if (area) {
    const made = area[2] === undefined ? '' : ` (${area[2].trim()})`;
    return metric(decimal(area[1]), `${decimal(area[1])} mm2${made}`, refuse);
  }
  return refuse(/^[\d.,]+$/.test(written) ? 'could be a gauge or an area' : 'is no conductor size');
}

function decimal(text = ''): number {
  return Number(text.replace(',', '.'));
}

function metric(area: number, name: string, refuse: (why: string) => Parsed<Conductor>): Parsed<Conductor> {
  if (!(area >= 0.03 && area <= 120)) return refuse('is no size of installation cable');
  return { ok: true, value: { name, areaSquareMillimetres: area, system: 'metric' } };
}

/**
 * Resistance of one metre of one conductor, Ω/m: ρ/A at the temperature of the cable.
 *
 * @param celsius 20 unless stated
 * @example ohmsPerMetre({name: '22 AWG', areaSquareMillimetres: 0.32553, system: 'awg'}) // => 0.052963
 */
export function ohmsPerMetre(conductor: Conductor, celsius: number = COPPER.atCelsius): number {
  const warm = 1 + COPPER.perKelvin * (celsius - COPPER.atCelsius);
  return (COPPER.resistivity / conductor.areaSquareMillimetres) * warm;
}

/**
 * The most that one metre of one conductor can have, Ω/m: the standard's maximum for metric sizes, the
 * stranded figure for AWG.
 *
 * @example maxOhmsPerMetre({name: '0.22 mm2', areaSquareMillimetres: 0.22, system: 'metric'}) // => 0.096
 */
export function maxOhmsPerMetre(conductor: Conductor, celsius: number = COPPER.atCelsius): number {
  const nominal = ohmsPerMetre(conductor, celsius);
  if (conductor.system === 'awg') return nominal * STRANDING_FACTOR;
  const area = conductor.areaSquareMillimetres;
  const row = MAX_OHMS_PER_KILOMETRE.find(([size]) => Math.abs(size - area) < SAME_SIZE * size);
  if (row === undefined) return nominal * METRIC_ALLOWANCE;
  return ((row[1] / 1000) * nominal) / ohmsPerMetre(conductor);
}

/**
 * A pair out and back, in ohms: twice the one-way length. The least from the ideal conductor at the
 * shortest length, the most from the maker's maximum at the longest.
 *
 * @param metres one way
 * @example cableLoopOhms({name: '0.22 mm2', areaSquareMillimetres: 0.22, system: 'metric'}, {min: 100, nominal: 100, max: 100}, 20) // => {min: 15.6736, nominal: 15.6736, max: 19.2}
 */
export function cableLoopOhms(conductor: Conductor, metres: Interval, celsius: number): Interval {
  const perMetre = ohmsPerMetre(conductor, celsius);
  return {
    min: 2 * metres.min * perMetre,
    nominal: 2 * metres.nominal * perMetre,
    max: 2 * metres.max * maxOhmsPerMetre(conductor, celsius),
  };
}
