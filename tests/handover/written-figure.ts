import type { Kind, Known } from './known-figures.ts';

/**
 * How a quantity has to stand, worked out by decimal digits alone and not by the program: three figures, volts four,
 * never more than two places behind the point (small figures as many as the digits reach); the ends of a window outwards.
 */
export function writtenFigure({ kind, value, end }: Pick<Known, 'kind' | 'value' | 'end'>): string {
  const { units, digits } = SCALES[kind];
  if (value === 0) return `0 ${units.find(([, per]) => per === 1)![0]}`;
  const size = Math.abs(value);
  let at = units.findIndex(([, , from]) => size >= from);
  if (at < 0) at = units.length - 1;
  for (;;) {
    const [name, per] = units[at]!;
    const figure = shortened(value / per, digits, end);
    const above = units[at - 1];
    // What rounds up to a thousand of one unit is one of the next.
    if (above === undefined || Math.abs(Number(figure)) * per < above[2] * (1 - 1e-9))
      return `${figure.replace('-', '−')} ${name}`;
    at -= 1;
  }
}

type Scale = {
  readonly digits: number;
  readonly units: readonly (readonly [name: string, per: number, from: number])[];
};

const SCALES: Readonly<Record<Kind, Scale>> = {
  ohms: {
    digits: 3,
    units: [
      ['MΩ', 1e6, 1e6],
      ['kΩ', 1e3, 1e3],
      ['Ω', 1, 0],
    ],
  },
  volts: { digits: 4, units: [['V', 1, 0]] },
  amps: {
    digits: 3,
    units: [
      ['A', 1, 1],
      ['mA', 1e-3, 1e-3],
      ['µA', 1e-6, 0],
    ],
  },
  ampHours: { digits: 3, units: [['Ah', 1, 0]] },
  hours: {
    digits: 3,
    units: [
      ['h', 1, 1],
      ['min', 1 / 60, 1 / 60],
      ['s', 1 / 3600, 0],
    ],
  },
  seconds: {
    digits: 3,
    units: [
      ['h', 3600, 3600],
      ['min', 60, 60],
      ['s', 1, 1],
      ['ms', 1e-3, 0],
    ],
  },
  metres: {
    digits: 3,
    units: [
      ['m', 1, 1],
      ['mm', 1e-3, 0],
    ],
  },
};

/** A decimal figure cut to its digits and places, by its own digits: what lies within a part in 10⁹ of a figure is it. */
function shortened(value: number, digits: number, end: Known['end']): string {
  const [mantissa, exponent] = Math.abs(value).toExponential(14).split('e') as [string, string];
  const all = BigInt(mantissa.replace('.', ''));
  const size = Number(exponent);
  const most = Math.abs(value) < 1 ? Math.max(2, digits - 1) : 2;
  const places = Math.min(digits - 1 - size, most);
  // `all` counts units of 10^(size − 14); what is kept counts units of 10^−places.
  const drop = 14 - size - places;
  if (drop <= 0) return trimmed(all * 10n ** BigInt(-drop), places, value < 0);
  const unit = 10n ** BigInt(drop);
  const rest = all % unit;
  const whole = all / unit;
  const hair = all / 1_000_000_000n;
  const grows = value < 0 ? 'low' : 'high';
  const up =
    end === null ? rest * 2n >= unit : unit - rest <= hair ? true : end === grows ? rest > hair : false;
  return trimmed(up ? whole + 1n : whole, places, value < 0);
}

function trimmed(count: bigint, places: number, isNegative: boolean): string {
  const text = places <= 0 ? `${count}${'0'.repeat(-places)}` : count.toString().padStart(places + 1, '0');
  const shown = places <= 0 ? text : `${text.slice(0, -places)}.${text.slice(-places)}`.replace(/\.?0+$/, '');
  return isNegative && /[1-9]/.test(shown) ? `-${shown}` : shown;
}
