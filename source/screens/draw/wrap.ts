import { graphemes, type Line, type Span, widthOf } from './line.ts';

/**
 * Text broken at spaces to a width; a word that is wider than a row is cut.
 *
 * @example wrapText('lift white of c1', 10) // => ['lift white', 'of c1']
 */
export function wrapText(text: string, width: number): string[] {
  const rows: string[] = [];
  for (const paragraph of text.split('\n')) {
    let row = '';
    for (const word of paragraph.split(' ').flatMap((part) => pieces(part, width))) {
      if (row === '') row = word;
      else if (widthOf(row) + 1 + widthOf(word) <= width) row += ` ${word}`;
      else {
        rows.push(row);
        row = word;
      }
    }
    rows.push(row);
  }
  return rows;
}

function pieces(word: string, width: number): string[] {
  if (widthOf(word) <= width) return [word];
  const out: string[] = [];
  let piece = '';
  for (const part of graphemes(word)) {
    if (piece !== '' && widthOf(piece) + widthOf(part) > width) {
      out.push(piece);
      piece = '';
    }
    piece += part;
  }
  return [...out, piece];
}

/** Wrapped rows with a mark before the first and an indent of its width before the others. */
export function wrapMarked(
  mark: Span,
  text: string,
  width: number,
  look: Omit<Span, 'text'> = {},
): readonly Line[] {
  const indent = widthOf(mark.text);
  return wrapText(text, Math.max(8, width - indent)).map((row, index) =>
    index === 0 ? [mark, { text: row, ...look }] : [{ text: ' '.repeat(indent) }, { text: row, ...look }],
  );
}

/** A text broken into rows of at most `width` columns, all drawn alike. */
export function wrapped(text: string, width: number, look: Omit<Span, 'text'> = {}): readonly Line[] {
  return wrapText(text, width).map((row) => [{ text: row, ...look }]);
}
