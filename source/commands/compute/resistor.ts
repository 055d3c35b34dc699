import {
  type BandReading,
  bandsOf,
  type Colour,
  parseColours,
  readBands,
} from '../../electrical/colour-code.ts';
import { isPreferred, preferredNeighbours, SERIES_NAMES } from '../../electrical/e-series.ts';
import { within } from '../../electrical/interval.ts';
import { RESISTOR_TOLERANCE } from '../../electrical/loop.ts';
import { formatQuantity, parseQuantity } from '../../electrical/quantity.ts';
import { digitsOf, parseResistorCode, type ResistorCode } from '../../electrical/resistor-code.ts';
import { Ending } from '../exit.ts';
import { type Answer, figure, type Working } from './answer.ts';
import { drawBands } from './bands.ts';
import { type Inputs, read } from './inputs.ts';

type Part = {
  readonly ohms: number;
  readonly tolerance: number;
  readonly isAssumed: boolean;
  readonly bands: readonly Colour[] | null;
  /** The bands read from the other end, where that is a value too. */
  readonly other: BandReading | null;
  /** What else a print may mean. */
  readonly otherwise: ResistorCode['otherwise'];
  readonly working: Working;
};

/** What a resistor is, from its print or its bands. */
export function computeResistor(inputs: Inputs, withColour: boolean): Answer {
  const part = readPart(inputs);
  const { ohms, tolerance } = part;
  const { min, max } = within(ohms, tolerance);
  const series = SERIES_NAMES.filter((name) => isPreferred(ohms, name));
  const shown = (value: number) => formatQuantity(value, 'ohms', { digits: 4 });
  const assumed = part.isAssumed ? ' (assumed: no tolerance is printed)' : '';
  const says = [
    `${shown(ohms)} ±${percent(tolerance)} %${assumed}: ${shown(min)} to ${shown(max)}, ${seriesWords(ohms, series)}.`,
    part.other === null
      ? ''
      : ` From the other end the bands say ${shown(part.other.ohms)} ±${percent(part.other.tolerance)} %.`,
    otherwiseSays(part),
  ].join('');
  return {
    says,
    ...(part.bands === null ? {} : { drawing: drawBands(part.bands, withColour) }),
    working: [part.working],
    json: {
      ohms,
      tolerancePercent: percent(tolerance),
      minOhms: min,
      maxOhms: max,
      series,
      otherEndOhms: part.other?.ohms ?? null,
      otherwiseOhms: part.otherwise?.ohms ?? null,
    },
  };
}

function readPart(inputs: Inputs): Part {
  const code = inputs.text('code');
  const colours = inputs.text('colours');
  if ((code === undefined) === (colours === undefined)) {
    throw new Ending(
      'usage',
      'A resistor is read from its print or its bands. Write --code 4K7 or --colours "yellow violet red gold".',
    );
  }
  return code === undefined ? fromColours(colours!) : fromCode(code);
}

function fromColours(text: string): Part {
  const [first, other = null] = read('colours', readBands(read('colours', parseColours(text))));
  const { bands, ohms, tolerance } = first!;
  return {
    ohms,
    tolerance,
    isAssumed: false,
    bands,
    other,
    otherwise: null,
    working: {
      formula:
        bands.length < 5 ? 'two digits · multiplier ± tolerance' : 'three digits · multiplier ± tolerance',
      figures: `${bands.join(' ')} = ${figure(ohms)} Ω ±${percent(tolerance)} %`,
      source: 'IEC 60062 colour code',
    },
  };
}

function fromCode(text: string): Part {
  const printed = parseResistorCode(text);
  // People also type a value as they say it: 2.2k.
  const plain = parseQuantity(text, 'ohms', 'field-unit');
  const isValue = !printed.ok && plain.ok && plain.value > 0 && Number.isFinite(plain.value);
  const { ohms, tolerance, otherwise } = isValue
    ? { ohms: plain.value, tolerance: null, otherwise: null }
    : read('code', printed);
  const part = tolerance ?? RESISTOR_TOLERANCE;
  return {
    ohms,
    tolerance: part,
    isAssumed: tolerance === null,
    bands: bandsOf(ohms, part),
    other: null,
    otherwise,
    working: {
      formula: /^\d{3}/.test(text.trim())
        ? 'two or three figures, then how many noughts follow'
        : 'the letter stands for the point and multiplies: R 1, K 1000, M 1 000 000',
      figures: `${text.trim()} = ${figure(ohms)} Ω`,
      source: /^\d{3}/.test(text.trim()) ? 'IEC 60062 code of digits' : 'IEC 60062 letter and digit code',
    },
  };
}

/** Digits alone mean one thing on a part and another in a notebook: both are said. */
function otherwiseSays({ otherwise }: Part): string {
  if (otherwise === null) return '';
  const said = formatQuantity(otherwise.ohms, 'ohms', { digits: 4 });
  if (otherwise.as === 'print') return ` On a part it may also be ${said}: read it with a meter.`;
  const printed = digitsOf(otherwise.ohms);
  const how = printed === null ? '' : `, which is printed ${printed}`;
  const written = said.replace(/ (k|M)?Ω/, (_, prefix?: string) => prefix ?? 'R');
  return ` That is the print of a part; if a figure of ${said} was meant${how}, write --code "${written}".`;
}

function percent(tolerance: number): number {
  return Number((tolerance * 100).toPrecision(6));
}

function seriesWords(ohms: number, series: readonly string[]): string {
  if (series.length > 0) return `an ${series[0]} value`;
  if (!(ohms > 0)) return 'a link';
  const { below, above } = preferredNeighbours(ohms, 'E24');
  return `in no series; the nearest of E24 are ${formatQuantity(below, 'ohms')} and ${formatQuantity(above, 'ohms')}`;
}
