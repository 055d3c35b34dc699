import type { Parsed } from './parsed.ts';

/** Value letters of IEC 60062; the letter stands where the point would. */
const MULTIPLIERS: Readonly<Record<string, number>> = { L: -3, R: 0, K: 3, M: 6, G: 9, T: 12 };

/** Tolerance letters of IEC 60062, as a fraction. E, L, P, W, H and N from memory. */
const TOLERANCES: Readonly<Record<string, number>> = {
  E: 0.00005,
  L: 0.0001,
  P: 0.0002,
  W: 0.0005,
  B: 0.001,
  C: 0.0025,
  D: 0.005,
  F: 0.01,
  G: 0.02,
  H: 0.03,
  J: 0.05,
  K: 0.1,
  M: 0.2,
  N: 0.3,
};

/** What is printed on a resistor; `tolerance` is `null` where no letter states it. */
export type ResistorCode = {
  readonly ohms: number;
  readonly tolerance: number | null;
  /** What else it may mean: 103 is 10 kΩ in print and 103 Ω in speech, 470K is 470 kΩ or, in print, 47 Ω of 10 %. */
  readonly otherwise: { readonly ohms: number; readonly as: 'figure' | 'print' } | null;
};

/** Two or three figures and how many noughts follow: the fixed-length code of IEC 60062 (its clause from memory). */
const DIGITS = /^(\d{2,3})(\d)([A-HJ-NPW])?$/;
/** Letters that multiply as well: behind digits they are read so. */
const MULTIPLIES = /^[LKMG]$/;

/**
 * Reads the codes of IEC 60062: letter and digits, `4K7`, `R47`, `0R47`, `470R`, `47K3F`, `2K2J`, and digits alone, `103`
 * and `1002`.
 *
 * @example parseResistorCode('4K7') // => {ok: true, value: {ohms: 4700, tolerance: null, otherwise: null}}
 * @example parseResistorCode('2K2J') // => {ok: true, value: {ohms: 2200, tolerance: 0.05, otherwise: null}}
 * @example parseResistorCode('103') // => {ok: true, value: {ohms: 10000, tolerance: null, otherwise: {ohms: 103, as: 'figure'}}}
 */
export function parseResistorCode(text: string): Parsed<ResistorCode> {
  const written = text.trim();
  const digits = DIGITS.exec(written.toUpperCase());
  if (digits !== null && !MULTIPLIES.test(digits[3] ?? '')) return fromDigits(written, digits);
  const code = /^(\d*)([LRKMGT])(\d*)([A-HJ-NPW])?$/.exec(written.replace(/^(\d*)([a-z])/, upper));
  const [, whole = '', letter = '', parts = '', toleranceLetter] = code ?? [];
  if (code === null || whole + parts === '') {
    return {
      ok: false,
      says: `"${written}" is no resistor code. Write it as printed, such as 4K7, R47, 2K2J or 103.`,
    };
  }
  const ohms = Number(`${whole || '0'}.${parts || '0'}e${MULTIPLIERS[letter]}`);
  if (ohms === 0 && whole + parts !== '0') {
    return { ok: false, says: `"${written}" is no value above zero. Read the print again.` };
  }
  const printed = digits === null ? null : fromDigits(written, digits);
  const otherwise = printed?.ok ? ({ ohms: printed.value.ohms, as: 'print' } as const) : null;
  return { ok: true, value: { ohms, tolerance: toleranceOf(toleranceLetter), otherwise } };
}

const toleranceOf = (letter: string | undefined) => (letter ? TOLERANCES[letter]! : null);

/** `000` is a link; any other code of digits begins with a figure above nought. */
function fromDigits(
  written: string,
  [, figures = '', noughts = '', letter]: RegExpExecArray,
): Parsed<ResistorCode> {
  const isLink = Number(figures + noughts) === 0;
  if (figures.startsWith('0') && !isLink) {
    return {
      ok: false,
      says: `"${written}" begins with nought, which no printed value does. Read the print again.`,
    };
  }
  const ohms = isLink ? 0 : Number(`${figures}e${noughts}`);
  const spoken = Number(figures + noughts);
  // A letter of tolerance is only ever printed.
  const isOne = letter !== undefined || spoken === ohms;
  const otherwise = isOne ? null : ({ ohms: spoken, as: 'figure' } as const);
  return { ok: true, value: { ohms, tolerance: toleranceOf(letter), otherwise } };
}

/**
 * How a value is printed in digits alone; `null` below 10 Ω and where three figures are not enough.
 *
 * @example digitsOf(10_000) // => '103'
 * @example digitsOf(2210) // => '2211'
 */
export function digitsOf(ohms: number): string | null {
  if (!(ohms >= 10)) return null;
  for (const count of [2, 3]) {
    const noughts = Math.floor(Math.log10(ohms) + 1e-9) - (count - 1);
    const figures = ohms / 10 ** noughts;
    if (noughts >= 0 && noughts <= 9 && Math.abs(figures - Math.round(figures)) < 1e-6)
      return `${Math.round(figures)}${noughts}`;
  }
  return null;
}

/** People write the letters small too; a small `m` would be milli elsewhere and stays refused. */
function upper(_: string, digits: string, letter: string): string {
  return digits + (letter === 'm' ? letter : letter.toUpperCase());
}
