import type { Terminal } from '@xterm/headless';
import { PALETTES } from '../../source/screens/draw/palette.ts';

const CELL = { width: 8.4, height: 18 };
const { background, text: foreground } = PALETTES.dark;

/** A terminal's buffer as an SVG: each run of one look a text of its own, at its own column. */
export function svgOf(terminal: Terminal): string {
  const width = Math.round(terminal.cols * CELL.width + 24);
  const height = terminal.rows * CELL.height + 24;
  const rows = Array.from({ length: terminal.rows }, (_, row) => rowOf(terminal, row)).join('');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">`,
    `<rect width="100%" height="100%" rx="8" fill="${background}"/>`,
    `<g font-family="ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', monospace" font-size="14">`,
    rows,
    '</g></svg>\n',
  ].join('\n');
}

type Run = { column: number; text: string; fill: string; bold: boolean };

function rowOf(terminal: Terminal, row: number): string {
  const line = terminal.buffer.active.getLine(terminal.buffer.active.viewportY + row);
  const runs: Run[] = [];
  for (let column = 0; line && column < terminal.cols; column++) {
    const cell = line.getCell(column);
    if (!cell || cell.getWidth() === 0) continue;
    const text = cell.getChars() || ' ';
    const fill = cell.isFgRGB() ? `#${cell.getFgColor().toString(16).padStart(6, '0')}` : foreground;
    const bold = cell.isBold() !== 0;
    const last = runs.at(-1);
    if (last && last.fill === fill && last.bold === bold) last.text += text;
    else runs.push({ column, text, fill, bold });
  }
  const y = 12 + row * CELL.height + 13;
  return runs
    .filter((run) => run.text.trim() !== '')
    .map(({ column, text, fill, bold }) => {
      const start = text.length - text.trimStart().length;
      const shown = text.trim();
      const x = (12 + (column + start) * CELL.width).toFixed(1);
      const length = ([...shown].length * CELL.width).toFixed(1);
      return `<text x="${x}" y="${y}" fill="${fill}" textLength="${length}"${bold ? ' font-weight="bold"' : ''}>${escaped(shown)}</text>\n`;
    })
    .join('');
}

// Spaces that do not collapse: a drawing keeps its columns in every viewer.
function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll(' ', '\u00a0');
}
