import { asciiText } from '../draw/glyphs.ts';

/**
 * What orders a terminal about or rearranges what stands on it: C0 and C1 controls (ECMA-48) with the sequences that begin with
 * them, marks of direction (UAX #9), and the separators of lines and paragraphs.
 */
const ORDERS = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;
const MAY_ORDER = /[^\x20-\x7e\u00a0-\u061b\u061d-\u200d\u2010-\u2027\u2030-\u2065\u206a-\uffff]/;

/**
 * Text that may leave for a terminal, whoever wrote it: what orders instead of saying something is spelled as JSON spells it, so
 * that it is seen, and JSON stays what it was. The ends of lines stay, as CSV has them too (RFC 4180: CR and LF).
 *
 * @example shownText('a\u001b]0;b') // => 'a\\u001b]0;b'
 */
export function shownText(text: string): string {
  if (!MAY_ORDER.test(text)) return text;
  return text.replaceAll(ORDERS, (sign, at: number) =>
    sign === '\n' || (sign === '\r' && text[at + 1] === '\n') ? sign : spelled(sign),
  );
}

/** The same for one row of a screen, in which no line can end. */
export function shownRow(text: string): string {
  return MAY_ORDER.test(text) ? text.replaceAll(ORDERS, spelled) : text;
}

/** JSON for a terminal that only has ASCII: the same document, its signs spelled. */
export function asciiJson(text: string): string {
  return text.replaceAll(/[^\x00-\x7f]/g, spelled);
}

/** Whether a locale says that its terminal takes no UTF-8 (POSIX: `LC_ALL`, then `LC_CTYPE`, then `LANG`). */
export function isAsciiLocale(env: Readonly<Record<string, string | undefined>>): boolean {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG || '';
  return locale !== '' && !/utf-?8/i.test(locale);
}

/** Text and JSON as a terminal of these surroundings takes them. */
export function textFor(
  env: Readonly<Record<string, string | undefined>>,
  isData: boolean,
): (text: string) => string {
  if (!isAsciiLocale(env)) return shownText;
  if (isData) return (text) => asciiJson(shownText(text));
  return (text) => shownText(text).split('\n').map(asciiText).join('\n');
}

function spelled(sign: string): string {
  if (sign === '\t') return ' ';
  return `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
}
