import type { QuantityKind } from './units.ts';

export type Units = 'metric' | 'imperial';

/** How a kind is shown: its steps from the largest unit down, and how many figures a site meter knows. */
type Display = {
  readonly digits: number;
  readonly steps: readonly (readonly [from: number, per: number, name: string])[];
};

const DISPLAYS: Record<Exclude<QuantityKind, 'celsius'>, Display> = {
  ohms: {
    digits: 3,
    steps: [
      [1e6, 1e6, 'MΩ'],
      [1e3, 1e3, 'kΩ'],
      [0, 1, 'Ω'],
    ],
  },
  volts: { digits: 4, steps: [[0, 1, 'V']] },
  amps: {
    digits: 3,
    steps: [
      [1, 1, 'A'],
      [1e-3, 1e-3, 'mA'],
      [0, 1e-6, 'µA'],
    ],
  },
  metres: {
    digits: 3,
    steps: [
      [1, 1, 'm'],
      [0, 1e-3, 'mm'],
    ],
  },
  ampHours: { digits: 3, steps: [[0, 1, 'Ah']] },
  seconds: {
    digits: 3,
    steps: [
      [3600, 3600, 'h'],
      [60, 60, 'min'],
      [1, 1, 's'],
      [0, 1e-3, 'ms'],
    ],
  },
  fraction: { digits: 3, steps: [[0, 0.01, '%']] },
  squareMillimetres: { digits: 3, steps: [[0, 1, 'mm²']] },
};
const FEET: Display = {
  digits: 3,
  steps: [
    [0.3048, 0.3048, 'ft'],
    [0, 0.0254, 'in'],
  ],
};

/** A site meter shows no more places behind the point. */
const METER_PLACES = 2;

/** Which way a figure is rounded: to what is nearest, or as a bound that must not come out narrower. */
type Toward = 'nearest' | 'down' | 'up';

/**
 * Writes a figure for people: engineering steps, no more figures than are known, the unit behind it. An
 * open circuit reads `open`.
 *
 * @param options units for lengths and temperatures; `digits` significant figures where more or fewer are known;
 *   `toward` where it is a bound (`window-words.ts`)
 * @example formatQuantity(2234.6, 'ohms') // => '2.23 kΩ'
 * @example formatQuantity(14, 'metres', {units: 'imperial'}) // => '45.9 ft'
 * @example formatQuantity(0.35, 'amps') // => '350 mA'
 */
export function formatQuantity(
  value: number,
  kind: QuantityKind,
  options: { readonly units?: Units; readonly digits?: number; readonly toward?: Toward } = {},
): string {
  if (value === Number.POSITIVE_INFINITY) return kind === 'ohms' ? 'open' : 'no end';
  const imperial = options.units === 'imperial';
  const toward = options.toward ?? 'nearest';
  if (kind === 'celsius') {
    const degrees = imperial ? (value * 9) / 5 + 32 : value;
    return `${rounded(degrees, options.digits ?? 3, METER_PLACES, toward)} ${imperial ? '°F' : '°C'}`;
  }
  const display = kind === 'metres' && imperial ? FEET : DISPLAYS[kind];
  const digits = options.digits ?? display.digits;
  if (value === 0) return `0 ${display.steps.find(([, per]) => per === 1)?.[2] ?? display.steps.at(-1)![2]}`;
  // A figure that rounds up into the next step is shown there: 999.9 Ω is 1 kΩ.
  const known = toDigits(value, digits, toward);
  const [, per, name] = display.steps.find(([from]) => Math.abs(known) >= from) ?? display.steps.at(-1)!;
  const places = options.digits === undefined ? METER_PLACES : digits;
  return `${rounded(value / per, digits, places, toward)} ${name}`;
}

/**
 * No more digits than are known; where nobody said how many, no more places than a site meter shows. Rounded once:
 * first to digits and then to places would make 6.73 of 6.7249.
 */
function rounded(figure: number, digits: number, places: number, toward: Toward): string {
  const shown = toDigits(figure, digits, toward);
  const place = Math.abs(shown) < 1 ? Math.max(places, digits - 1) : places;
  const last = Math.max(-Math.min(place, 12), unitOfDigits(figure, digits));
  return String(toStep(figure, last, toward)).replace('-', '−');
}

function toDigits(figure: number, digits: number, toward: Toward): number {
  return toStep(figure, unitOfDigits(figure, digits), toward);
}

/** The power of ten of the last digit that is known. */
function unitOfDigits(figure: number, digits: number): number {
  return figure === 0 ? -12 : Math.floor(Math.log10(Math.abs(figure)) + 1e-12) - digits + 1;
}

/** Digits that a sum of decimal fractions keeps: what differs behind them is noise, and must not tip a half. */
const SURE_DIGITS = 12;

/** To a multiple of a power of ten, a half away from nothing; what is one already, but for noise, stays. */
function toStep(figure: number, power: number, toward: Toward): number {
  const steps = timesTen(Number(figure.toPrecision(SURE_DIGITS)), -power);
  const whole = Math.sign(steps) * Math.round(Math.abs(steps));
  const isWhole = Math.abs(steps - whole) <= 1e-9 * Math.max(1, Math.abs(steps));
  const stays = isWhole || toward === 'nearest';
  const cut = stays ? whole : toward === 'up' ? Math.ceil(steps) : Math.floor(steps);
  // A negative figure that comes to nothing has no sign.
  return timesTen(cut, power) + 0;
}

/** Moves the point of a decimal figure, without the noise that a multiplication would add. */
function timesTen(figure: number, power: number): number {
  const [digits, exponent = '0'] = String(figure).split('e');
  return Number(`${digits}e${Number(exponent) + power}`);
}
