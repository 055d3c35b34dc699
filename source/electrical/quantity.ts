import { readNumber } from './number-words.ts';

/** What a figure measures. Inside the program every figure is in the unit its kind names. */
export type QuantityKind =
  | 'ohms'
  | 'volts'
  | 'amps'
  | 'metres'
  | 'ampHours'
  | 'seconds'
  | 'celsius'
  | 'fraction'
  | 'squareMillimetres';

/** Something read from text, or one sentence of what is so and one of what to do. */
export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly says: string };

type Unit = { readonly names: readonly string[]; readonly toInside: (figure: number) => number };

type Kind = {
  /** The unit of a bare figure, where bare figures are allowed. */
  readonly field: string;
  readonly accepts: string;
  readonly signed: boolean;
  readonly units: readonly Unit[];
};

const times = (factor: number) => (figure: number) => figure * factor;
const unit = (factor: number, ...names: string[]): Unit => ({ names, toInside: times(factor) });
const OHM_WORDS = ['', 'ohm', 'ohms', 'Ω', 'Ω', 'R'];
const ohmUnit = (factor: number, ...prefixes: string[]): Unit =>
  unit(factor, ...prefixes.flatMap((prefix) => OHM_WORDS.map((word) => prefix + word)));

/**
 * Names are compared in lower case, but for ohms, where `m` and `M` are nine noughts apart.
 */
const KINDS: Record<QuantityKind, Kind> = {
  ohms: {
    field: 'ohm',
    accepts: '2.2k, 2k2, 2200 ohm, or OL for an open circuit',
    signed: false,
    units: [
      unit(1, 'ohm', 'ohms', 'Ohm', 'Ohms', 'OHM', 'OHMS', 'Ω', 'Ω', 'R', 'r'),
      ohmUnit(1e3, 'k', 'K', 'kilo', 'kilo-'),
      unit(1e3, 'kOhm', 'KOHM', 'kOHM'),
      ohmUnit(1e6, 'M', 'Meg', 'meg', 'MEG', 'mega'),
      unit(1e6, 'MOhm', 'MOHM'),
      unit(1e-3, 'mohm', 'mohms', 'mOhm', 'mΩ', 'mΩ', 'milliohm', 'milliohms'),
    ],
  },
  volts: {
    field: 'v',
    accepts: '12 V, 13.7 V or 20 mV',
    signed: true,
    units: [unit(1, 'v', 'volt', 'volts', 'vdc', 'v dc', 'volts dc'), unit(1e-3, 'mv', 'millivolts')],
  },
  amps: {
    field: 'a',
    accepts: '350 mA or 0.35 A',
    signed: true,
    units: [
      unit(1, 'a', 'amp', 'amps', 'ampere', 'amperes'),
      unit(1e-3, 'ma', 'milliamp', 'milliamps'),
      unit(1e-6, 'µa', 'μa', 'ua', 'microamps'),
    ],
  },
  metres: {
    field: 'm',
    accepts: '14 m, 46 ft or 150 mm',
    signed: false,
    units: [
      unit(1, 'm', 'metre', 'metres', 'meter', 'meters'),
      unit(0.01, 'cm'),
      unit(0.001, 'mm'),
      unit(0.3048, 'ft', 'ft.', 'foot', 'feet', "'", '′', '’'),
      unit(0.0254, 'in', 'in.', 'inch', 'inches', '"', '″', '”'),
    ],
  },
  ampHours: {
    field: 'ah',
    accepts: '7 Ah or 2300 mAh',
    signed: false,
    units: [unit(1, 'ah', 'amp hours', 'amp-hours', 'ampere-hours'), unit(1e-3, 'mah')],
  },
  seconds: {
    field: 's',
    accepts: '12 h, 15 min, 1 h 30 min or 300 ms',
    signed: false,
    units: [
      unit(86400, 'd', 'day', 'days'),
      unit(3600, 'h', 'hr', 'hrs', 'hour', 'hours'),
      unit(60, 'min', 'mins', 'minute', 'minutes'),
      unit(1, 's', 'sec', 'secs', 'second', 'seconds'),
      unit(1e-3, 'ms'),
    ],
  },
  celsius: {
    field: '°c',
    accepts: '20 °C or 68 °F',
    signed: true,
    units: [
      unit(1, '°c', '℃', 'c', 'degc', 'deg c', 'celsius'),
      {
        names: ['°f', '℉', 'f', 'degf', 'deg f', 'fahrenheit'],
        toInside: (figure) => ((figure - 32) * 5) / 9,
      },
    ],
  },
  fraction: {
    field: '%',
    accepts: '5 %',
    signed: false,
    units: [unit(0.01, '%', 'percent', 'per cent', 'pct')],
  },
  squareMillimetres: {
    field: 'mm²',
    accepts: '0.22 mm2',
    signed: false,
    units: [unit(1, 'mm²', 'sq mm', 'sqmm')],
  },
};

const OPEN_WORDS = /^(?:[o0]\.?l\.?|\.[o0]l|[o0]\.[o0]l|open|over|overload|∞|inf|infinity|infinite)$/i;
const LETTER_CODE: Partial<Record<QuantityKind, RegExp>> = {
  // IEC 60062 letter code: the letter stands where the point would.
  ohms: /^(\d*)([rRkKM])(\d+)$/,
  volts: /^(\d+)([vV])(\d+)$/,
};

/**
 * Reads a figure as people write it on a meter's display, in a notebook or at a prompt. Nonsense, another
 * quantity's unit, and figures that could be read in two ways are refused, never guessed.
 *
 * @param kind what it measures; the value comes back in that unit
 * @param bare what a figure without unit means: nothing (`refused`, as in files), the kind's own unit
 *   (`field-unit`: ohm, V, A, m, Ah, s, °C, %), or the unit named (`h`, `min`, `mA`)
 * @example parseQuantity('2k2', 'ohms') // => {ok: true, value: 2200}
 * @example parseQuantity('OL', 'ohms') // => {ok: true, value: Infinity}
 * @example parseQuantity('46 ft', 'metres') // => {ok: true, value: 14.0208}
 * @example parseQuantity('12 h', 'seconds') // => {ok: true, value: 43200}
 */
export function parseQuantity(
  text: string,
  kind: QuantityKind,
  bare: 'refused' | 'field-unit' | (string & {}) = 'refused',
): Parsed<number> {
  const written = text.trim();
  const { field, accepts, signed } = KINDS[kind];
  const refuse = (why: string): Parsed<number> => ({
    ok: false,
    says: `${written === '' ? 'Nothing' : `"${written}"`} ${why}. Write ${accepts}.`,
  });
  if (written === '') return refuse('was written');
  if (OPEN_WORDS.test(written)) {
    if (kind === 'ohms') return { ok: true, value: Number.POSITIVE_INFINITY };
    return refuse('is what a meter shows of an open circuit, in ohms');
  }
  const plain = fromLetterCode(written, LETTER_CODE[kind]).replace(/mm\^?2$/i, 'mm²');
  const parts = [...plain.matchAll(/([^\p{L}%°℃℉'"′″’”µΩ]+)([^\d]*)/gu)];
  if (parts.length === 0 || parts.map((part) => part[0]).join('') !== plain) return refuse('is no figure');
  if (
    parts.length > 1 &&
    !isCompound(
      kind,
      parts.map((part) => part[2]!.trim()),
    )
  ) {
    return refuse('holds more than one figure');
  }
  let value = 0;
  for (const [, digits = '', name = ''] of parts) {
    const figure = readNumber(digits);
    if (!figure.ok) return refuse(figure.says);
    const asked = name.trim() === '' ? (bare === 'field-unit' ? field : bare) : name.trim();
    if (asked === 'refused') return refuse('has no unit');
    const found = findUnit(kind, asked);
    if (found === undefined) return refuse(otherKind(kind, asked));
    if (kind === 'fraction' && name.trim() === '' && figure.value > 0 && figure.value <= 1) {
      return refuse('could be a fraction or a percentage');
    }
    value += found.toInside(figure.value);
  }
  if (kind === 'celsius' && value < -273.15) return refuse('is colder than anything can be');
  if (!signed && value < 0) {
    return refuse(
      kind === 'ohms'
        ? 'is below zero, as a meter shows when a voltage stands on the wires'
        : 'is below zero',
    );
  }
  return { ok: true, value: Number(value.toPrecision(15)) };
}

function fromLetterCode(written: string, pattern: RegExp | undefined): string {
  const code = pattern?.exec(written);
  return code ? `${code[1] || '0'}.${code[3]}${code[2]}` : written;
}

/** Hours with minutes and feet with inches are one figure in two parts; anything else is two figures. */
function isCompound(kind: QuantityKind, names: readonly string[]): boolean {
  if (kind !== 'seconds' && kind !== 'metres') return false;
  const sizes = names.map((name) => findUnit(kind, name)?.toInside(1) ?? Number.NaN);
  const isImperial = sizes.every((size) => size < 0.4) || kind === 'seconds';
  return isImperial && sizes.every((size, at) => at === 0 || size < sizes[at - 1]!);
}

function findUnit(kind: QuantityKind, name: string): Unit | undefined {
  const wanted = kind === 'ohms' ? name.replace(/\s+/g, '') : name.toLowerCase().replace(/\s+/g, ' ');
  return KINDS[kind].units.find((candidate) => candidate.names.includes(wanted));
}

function otherKind(kind: QuantityKind, name: string): string {
  if (kind === 'volts' && /^v(olts?)?\s*ac$/i.test(name)) return 'names AC, which is asked for by itself';
  if (kind === 'ohms' && /^m$/.test(name)) return 'has a small m, which could be milli or mega';
  const other = (Object.keys(KINDS) as QuantityKind[]).find(
    (candidate) => candidate !== kind && findUnit(candidate, name) !== undefined,
  );
  return other === undefined
    ? `has no unit that is known here`
    : `is ${KIND_WORDS[other]}, not ${KIND_WORDS[kind]}`;
}

const KIND_WORDS: Record<QuantityKind, string> = {
  ohms: 'a resistance',
  volts: 'a voltage',
  amps: 'a current',
  metres: 'a length',
  ampHours: 'a battery capacity',
  seconds: 'a time',
  celsius: 'a temperature',
  fraction: 'a percentage',
  squareMillimetres: 'an area',
};

export { formatQuantity, type Units } from './quantity-words.ts';
