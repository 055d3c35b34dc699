import stringWidth from 'string-width';

/** Characters one column wide, which nearly all of a plan is made of: measuring others costs a thousand times more. */
const PLAIN = /^[ -~Ω°µ±²─│┌┐└┘├┤┬┴…−]*$/;

function widthOf(text: string): number {
  return PLAIN.test(text) ? text.length : stringWidth(text);
}

/**
 * Words broken into lines of at most `columns`; a word longer than a line stands alone, cut.
 *
 * @example wrap('one two three', 8) // => ['one two', 'three']
 */
export function wrap(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter(Boolean)) {
    if (line !== '' && widthOf(`${line} ${word}`) > columns) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? cut(word, columns) : `${line} ${word}`;
  }
  return line === '' ? lines : [...lines, line];
}

/** A paragraph under a first indent and a hanging one. */
export function paragraph(text: string, columns: number, first: string, rest: string): string[] {
  return wrap(text, columns - Math.max(first.length, rest.length)).map(
    (line, index) => (index === 0 ? first : rest) + line,
  );
}

/** Blanks to the right up to a width; wider texts stay. */
export function pad(text: string, columns: number): string {
  return text + ' '.repeat(Math.max(0, columns - widthOf(text)));
}

/**
 * Shortened with an ellipsis where it is too wide.
 *
 * @example cut('galley-window', 8) // => 'galley-…'
 */
export function cut(text: string, columns: number): string {
  if (widthOf(text) <= columns) return text;
  let kept = '';
  for (const character of text) {
    if (widthOf(kept + character) > columns - 1) break;
    kept += character;
  }
  return `${kept}…`;
}

/** Rows in columns as wide as their widest cell; the column `grows` takes what is left and wraps. */
export function table(rows: readonly (readonly string[])[], columns: number, grows: number): string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: count }, (_, at) =>
    Math.max(...rows.map((row) => widthOf(row[at] ?? ''))),
  );
  const others = widths.reduce((sum, width, at) => (at === grows ? sum : sum + width), 0);
  widths[grows] = Math.max(8, Math.min(widths[grows] ?? 0, columns - others - 2 * (count - 1)));
  return rows.flatMap((row) => {
    const cells = row.map((cell, at) => (at === grows ? wrap(cell, widths[at]!) : [cell]));
    const height = Math.max(1, ...cells.map((lines) => lines.length));
    return Array.from({ length: height }, (_, line) =>
      cut(
        cells
          .map((lines, at) => pad(lines[line] ?? '', widths[at]!))
          .join('  ')
          .trimEnd(),
        columns,
      ),
    );
  });
}

/**
 * A share of a limit as a bar; past the limit it runs over its end.
 *
 * @example bar(88, 800, 10) // => '[#.........] '
 * @example bar(25, 20, 4) // => '[####]!'
 */
export function bar(value: number, limit: number, columns: number): string {
  const share = limit > 0 ? value / limit : Number.POSITIVE_INFINITY;
  const full = Math.min(columns, Math.max(value > 0 ? 1 : 0, Math.round(share * columns)));
  const over = share > 1 ? '!' : ' ';
  return `[${'#'.repeat(full)}${'.'.repeat(columns - full)}]${over}`;
}

/** A heading in capitals, underlined, with a line above it. */
export function heading(text: string, columns: number): string[] {
  return ['', text.toUpperCase(), '─'.repeat(Math.min(columns, widthOf(text)))];
}
