import type { Parsed } from './quantity.ts';

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
export type ResistorCode = { readonly ohms: number; readonly tolerance: number | null };

/**
 * Reads the letter-and-digit code of IEC 60062: `4K7`, `R47`, `0R47`, `470R`, `47K3F`, `2K2J`.
 *
 * @example parseResistorCode('4K7') // => {ok: true, value: {ohms: 4700, tolerance: null}}
 * @example parseResistorCode('2K2J') // => {ok: true, value: {ohms: 2200, tolerance: 0.05}}
 */
export function parseResistorCode(text: string): Parsed<ResistorCode> {
  const written = text.trim();
  const code = /^(\d*)([LRKMGT])(\d*)([A-HJ-NPW])?$/.exec(written.replace(/^(\d*)([a-z])/, upper));
  const [, whole = '', letter = '', parts = '', toleranceLetter] = code ?? [];
  if (code === null || whole + parts === '') {
    return {
      ok: false,
      says: `"${written}" is no resistor code. Write it as printed, such as 4K7, R47 or 2K2J.`,
    };
  }
  const ohms = Number(`${whole || '0'}.${parts || '0'}e${MULTIPLIERS[letter]}`);
  if (ohms === 0 && whole + parts !== '0') {
    return { ok: false, says: `"${written}" is no value above zero. Read the print again.` };
  }
  return { ok: true, value: { ohms, tolerance: toleranceLetter ? TOLERANCES[toleranceLetter]! : null } };
}

/** People write the letters small too; a small `m` would be milli elsewhere and stays refused. */
function upper(_: string, digits: string, letter: string): string {
  return digits + (letter === 'm' ? letter : letter.toUpperCase());
}
