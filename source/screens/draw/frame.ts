import { shownRow } from '../terminal/shown-text.ts';
import type { Glyphs } from './glyphs.ts';
import { asciiText } from './glyphs.ts';
import { clipLine, EMPTY, type Line, lineWidth, type Span } from './line.ts';
import type { Palette } from './palette.ts';

/** How much room there is and how it is drawn. `linear`: for a screen reader, without drawings. */
export type Room = {
  readonly columns: number;
  readonly rows: number;
  readonly glyphs: Glyphs;
  readonly palette: Palette;
  readonly linear: boolean;
  /** What lengths and temperatures are shown in. */
  readonly units: 'metric' | 'imperial';
};

/** A list or a line of text that a library serves; it takes `rows` rows of the body. */
export type Control =
  | {
      readonly kind: 'list';
      readonly id: string;
      readonly items: readonly { readonly value: string; readonly label: string }[];
      readonly initial: number;
    }
  | { readonly kind: 'line'; readonly id: string; readonly value: string; readonly placeholder: string };

/**
 * A screen in parts, from the top: head, body (paged where it is too long), pinned rows that are always seen,
 * what just happened, foot. `cursor` counts from the first pinned row.
 */
export type Frame = {
  readonly head: readonly Line[];
  readonly body: readonly Line[];
  readonly control?: Control;
  readonly pinned: readonly Line[];
  /** What just happened: always just above the foot. */
  readonly low?: readonly Line[];
  readonly foot: readonly Line[];
  readonly page: number;
  /** Which keys turn the page; PgDn where it is not said. */
  readonly turnedBy?: string;
  readonly cursor?: { readonly row: number; readonly column: number };
};

export type PageTurn = { readonly at: number; readonly of: number };

export type Composed = {
  /** Rows above the control, or all of them where there is none. */
  readonly above: readonly Line[];
  readonly control: Control | null;
  readonly controlRows: number;
  readonly below: readonly Line[];
  /** Which page of the body is shown, from 0, and how many there are. */
  readonly turn: PageTurn;
  readonly cursor: { readonly row: number; readonly column: number } | null;
};

export const LEAST = { columns: 60, rows: 20 };

/** The frame laid out: always one row less than the terminal has, each row within its width. */
export function compose(given: Frame, room: Room): Composed {
  const frame = room.glyphs.name === 'ascii' ? inAscii(given, room.columns) : given;
  const height = room.rows - 1;
  const low = frame.low ?? [];
  // The keys are never pushed out: of too many pinned rows the last ones stay, where the entry is.
  const most = Math.max(1, height - frame.head.length - low.length - frame.foot.length - 1);
  const dropped = Math.max(0, frame.pinned.length - most);
  const pinned = frame.pinned.slice(dropped);
  const space = Math.max(1, height - frame.head.length - pinned.length - low.length - frame.foot.length);
  const wanted = frame.control ? controlRows(frame.control) : 0;
  const forControl = Math.min(wanted, Math.max(3, space - Math.min(frame.body.length, space - 3)));
  const forBody = Math.max(0, space - forControl);
  const { rows, turn } = pageOf(frame, forBody, room);
  const filler = Array.from({ length: Math.max(0, forBody - rows.length) }, () => EMPTY);
  const fit = (line: Line) => clipLine(safeLine(line), room.columns, room.glyphs.cut);
  const above = [...frame.head, ...rows].map(fit);
  return {
    above,
    control: frame.control ?? null,
    controlRows: forControl,
    below: [...pinned, ...filler, ...low, ...frame.foot]
      .map(fit)
      .slice(0, Math.max(0, height - above.length - forControl)),
    turn,
    cursor: frame.cursor
      ? {
          row: above.length + forControl + Math.max(0, frame.cursor.row - dropped),
          column: Math.min(room.columns - 1, frame.cursor.column),
        }
      : null,
  };
}

// Names, notes and what a record holds come from anybody.
function safeLine(line: Line): Line {
  if (line.every(({ text }) => shownRow(text) === text)) return line;
  return line.map((span) => ({ ...span, text: shownRow(span.text) }));
}

// Spelled signs take more room than drawn ones: what no longer fits goes on in the next row.
function inAscii(frame: Frame, columns: number): Frame {
  const spell = (lines: readonly Line[]) =>
    lines.flatMap((line) =>
      breakLine(
        line.map((span) => ({ ...span, text: asciiText(span.text) })),
        columns,
      ),
    );
  return {
    ...frame,
    head: spell(frame.head).slice(0, frame.head.length),
    body: spell(frame.body),
    pinned: spell(frame.pinned),
    low: spell(frame.low ?? []),
    foot: spell(frame.foot),
  };
}

function breakLine(line: Line, columns: number): readonly Line[] {
  if (lineWidth(line) <= columns) return [line];
  const rows: Span[][] = [[]];
  let used = 0;
  for (const span of line) {
    for (const word of span.text.split(/(?<= )/)) {
      if (used > 0 && used + word.trimEnd().length > columns) {
        rows.push([]);
        used = 0;
      }
      rows.at(-1)!.push({ ...span, text: word });
      used += word.length;
    }
  }
  return rows;
}

function controlRows(control: Control): number {
  return control.kind === 'line' ? 1 : control.items.length;
}

// A body that is too long is turned page by page, never cut off; its last row says that there is more.
function pageOf(
  { body, page, turnedBy = 'PgDn turns' }: Frame,
  space: number,
  room: Room,
): { rows: readonly Line[]; turn: PageTurn } {
  if (body.length <= space) return { rows: body, turn: { at: 0, of: 1 } };
  const each = Math.max(1, space - 1);
  const pages = Math.ceil(body.length / each);
  const at = ((page % pages) + pages) % pages;
  const rows = body.slice(at * each, (at + 1) * each);
  const filler = Array.from({ length: each - rows.length }, () => EMPTY);
  const says = `${room.glyphs.more} page ${at + 1} of ${pages}: ${turnedBy}`;
  return { rows: [...rows, ...filler, [{ text: says, tone: 'focus' }]], turn: { at, of: pages } };
}
