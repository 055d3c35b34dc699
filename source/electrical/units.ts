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

/** One unit: every way of writing it, and how its figures become those of the kind. */
export type Unit = { readonly names: readonly string[]; readonly toInside: (figure: number) => number };

type Kind = {
  /** With its article, for sentences. */
  readonly name: string;
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
 * The units of each kind. Names are compared in lower case, but for ohms, where `m` and `M` are nine noughts apart.
 */
export const KINDS: Record<QuantityKind, Kind> = {
  ohms: {
    name: 'a resistance',
    field: 'ohm',
    accepts: '2.2k, 2k2, 2200 ohm, or OL for an open circuit',
    signed: false,
    units: [
      unit(1, 'ohm', 'ohms', 'Ohm', 'Ohms', 'OHM', 'OHMS', 'Ω', 'Ω', 'R', 'r'),
      ohmUnit(1e3, 'k', 'K', 'kil', 'kilo', 'kilo-'),
      unit(1e3, 'kOhm', 'KOHM', 'kOHM'),
      ohmUnit(1e6, 'M', 'Meg', 'meg', 'MEG', 'mega'),
      unit(1e6, 'MOhm', 'MOHM'),
      unit(1e-3, 'mohm', 'mohms', 'mOhm', 'mΩ', 'mΩ', 'milliohm', 'milliohms'),
    ],
  },
  volts: {
    name: 'a voltage',
    field: 'v',
    accepts: '12 V, 13.7 V or 20 mV',
    signed: true,
    units: [unit(1, 'v', 'volt', 'volts', 'vdc', 'v dc', 'volts dc'), unit(1e-3, 'mv', 'millivolts')],
  },
  amps: {
    name: 'a current',
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
    name: 'a length',
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
    name: 'a battery capacity',
    field: 'ah',
    accepts: '7 Ah or 2300 mAh',
    signed: false,
    units: [unit(1, 'ah', 'amp hours', 'amp-hours', 'ampere-hours'), unit(1e-3, 'mah')],
  },
  seconds: {
    name: 'a time',
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
    name: 'a temperature',
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
    name: 'a percentage',
    field: '%',
    accepts: '5 %',
    signed: false,
    units: [unit(0.01, '%', 'percent', 'per cent', 'pct')],
  },
  squareMillimetres: {
    name: 'an area',
    field: 'mm²',
    accepts: '0.22 mm2',
    signed: false,
    units: [unit(1, 'mm²', 'sq mm', 'sqmm')],
  },
};
