import { readNumber } from './number-words.ts';
import type { Parsed } from './parsed.ts';
import { KINDS, type QuantityKind, type Unit } from './units.ts';

const OPEN_WORDS =
  /^(?:[o0]\.?l\.?|\.[o0]l|[o0]\.[o0]l|open|over|overload|∞|inf|infinity|infinite)(?:\s*[km]?(?:Ω|Ω|ohms?))?$/i;

/** Whether this is what a meter shows where its range ends: an open circuit in ohms, too much in anything else. */
export function isOverRange(text: string): boolean {
  return OPEN_WORDS.test(text.trim());
}

const LETTER_CODE: Partial<Record<QuantityKind, RegExp>> = {
  // IEC 60062 letter code: the letter stands where the point would.
  ohms: /^(\d*)([rRkKM])(\d+)(?:\s*(?:Ω|Ω|ohms?))?$/,
  volts: /^(\d+)([vV])(\d+)$/,
};

/**
 * Reads a figure as people write it on a meter's display, in a notebook or at a keyboard. Nonsense, another
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
  const names = parts.map((part) => part[2]!.trim());
  if (parts.length > 1 && !isCompound(kind, names)) return refuse('holds more than one figure');
  let value = 0;
  for (const [at, name] of names.entries()) {
    const figure = readNumber(parts[at]![1]!);
    if (!figure.ok) return refuse(figure.says);
    if (at > 0 && figure.value < 0) return refuse('is no figure');
    const asked = name === '' ? (bare === 'field-unit' ? field : bare) : name;
    if (asked === 'refused') return refuse('has no unit');
    const found = findUnit(kind, asked);
    if (found === undefined) return refuse(otherKind(kind, asked));
    if (kind === 'fraction' && name === '' && figure.value > 0 && figure.value <= 1) {
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
  return sizes.every((size, at) => size > 0 && (at === 0 || size < sizes[at - 1]!));
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
    ? 'has no unit that is known here'
    : `is ${KINDS[other].name}, not ${KINDS[kind].name}`;
}

export type { Parsed } from './parsed.ts';
export { formatQuantity, type Units } from './quantity-words.ts';
export type { QuantityKind } from './units.ts';
