import stringWidth from 'string-width';
import type { Tone } from './palette.ts';

/** A run of text drawn alike. Colour only ever marks: what a tone says is also said in words or by a glyph. */
export type Span = {
  readonly text: string;
  readonly tone?: Tone;
  readonly bold?: boolean;
  readonly inverse?: boolean;
  /** The colour of a conductor, by the name that always stands beside it. */
  readonly wire?: string;
};

/** One row of a screen. */
export type Line = readonly Span[];

// Signs that take one column each, one code unit long: nearly all that is ever shown, and quickly counted.
const ONE_COLUMN =
  /^[\x20-\x7e\xa1-\xac\xae-\xff\u2010-\u2027\u2039\u203a\u2190-\u21ff\u2260-\u22ff\u2500-\u25ff\u2713\u2717\u03a9\u2212\u22ef]*$/;

/**
 * Columns a text takes in a terminal.
 *
 * @example widthOf('2.2 kΩ') // => 6
 */
export function widthOf(text: string): number {
  return ONE_COLUMN.test(text) ? text.length : stringWidth(text);
}

/** Columns that a row takes. */
export function lineWidth(line: Line): number {
  return line.reduce((sum, span) => sum + widthOf(span.text), 0);
}

/** The words of a row without how they are drawn. */
export function plain(line: Line): string {
  return line.map((span) => span.text).join('');
}

export const EMPTY: Line = [];

// Slow to make, and wanted only where something is cut.
let segmenter: Intl.Segmenter | undefined;

/** What people count as one sign each. */
export function graphemes(text: string): string[] {
  if (ONE_COLUMN.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter('en', { granularity: 'grapheme' });
  return Array.from(segmenter.segment(text), (part) => part.segment);
}

/**
 * The text cut to a width, with a mark where something was cut off.
 *
 * @example clipText('terminal strip', 8, '~') // => 'termina~'
 */
export function clipText(text: string, width: number, mark = '…'): string {
  if (widthOf(text) <= width) return text;
  if (width <= 0) return '';
  const room = width - widthOf(mark);
  let kept = '';
  let used = 0;
  for (const part of graphemes(text)) {
    used += widthOf(part);
    if (used > room) break;
    kept += part;
  }
  return room < 0 ? '' : kept + mark;
}

/** The line cut to a width. */
export function clipLine(line: Line, width: number, mark = '…'): Line {
  if (lineWidth(line) <= width) return line;
  const kept: Span[] = [];
  let left = width;
  for (const span of line) {
    const wide = widthOf(span.text);
    if (wide <= left && !(wide === left && span !== line.at(-1))) {
      kept.push(span);
      left -= wide;
      continue;
    }
    kept.push({ ...span, text: clipText(`${span.text}${mark}`, left, mark) });
    break;
  }
  return kept;
}

/** Left and right on one row; the left gives way where both do not fit. */
export function spread(left: Line, right: Line, width: number, mark = '…'): Line {
  const room = width - lineWidth(right);
  const fitted = clipLine(left, Math.max(0, room - 1), mark);
  return [...fitted, { text: ' '.repeat(Math.max(0, room - lineWidth(fitted))) }, ...right];
}

/** A text filled up with blanks to so many columns; a longer one stays as it is. */
export function padText(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - widthOf(text)));
}
