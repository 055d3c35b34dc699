import type { Room } from './frame.ts';
import { clipText, type Line, padText, type Span, widthOf } from './line.ts';

/** A screw and what is under it. `marked`: the step is about it. */
export type StripScrew = {
  readonly name: string;
  readonly marked: boolean;
  readonly wires: readonly StripWire[];
};

export type StripWire = {
  readonly colour: string;
  readonly id: string;
  readonly marked: boolean;
  /** A word beside it: `lift`, `landed`. */
  readonly note: string;
};

const MOST_WIRES = 4;

/**
 * A terminal strip: screws beside each other, the conductors hanging from them, each with its colour in words.
 * Where not all fit, the marked ones and those beside them are drawn.
 */
export function drawStrip(title: string, screws: readonly StripScrew[], room: Room): readonly Line[] {
  const label = padText(title, Math.max(10, widthOf(title) + 2));
  const space = room.columns - widthOf(label) - 2;
  const wide = Math.max(
    8,
    Math.min(
      14,
      2 + Math.max(0, ...screws.flatMap((screw) => screw.wires.map((wire) => widthOf(wire.colour) + 4))),
    ),
  );
  const shown = around(screws, Math.max(1, Math.floor(space / wide)));
  const isCut = (screw: StripScrew) => shown[shown.indexOf(screw) + 1] !== screws[screws.indexOf(screw) + 1];
  const indent: Span = { text: ' '.repeat(widthOf(label)) };
  const cell = (text: string, marked: boolean): Span => ({
    text: padText(clipText(text, wide - 1, room.glyphs.cut), wide),
    ...(marked && { bold: true, tone: 'focus' as const }),
  });
  // As deep as the marked screws are; of the others one sees the first, and how many more there are.
  const depths = shown.map(({ marked, wires }) => (marked ? wires.length : Math.min(1, wires.length)));
  const depth = Math.min(MOST_WIRES, Math.max(0, ...depths));
  const rows: Line[] = [
    [
      { text: label, bold: true },
      ...shown.map((screw) => {
        const more = isCut(screw) ? ` ${room.glyphs.more}` : '';
        return cell(`${room.glyphs.screw} ${screw.name}${moreThan(screw, depth)}${more}`, screw.marked);
      }),
    ],
  ];
  for (let at = 0; at < depth; at++) {
    const wires = shown.map((screw) => screw.wires[at]);
    rows.push([indent, ...wires.flatMap((wire) => colourCell(wire, wide, room))]);
    rows.push([
      indent,
      ...wires.map((wire) => cell(wire ? `${room.glyphs.corner} ${wire.id}` : '', wire?.marked ?? false)),
    ]);
    if (wires.some((wire) => wire && wire.note !== '')) {
      rows.push([indent, ...wires.map((wire) => cell(wire ? `  ${wire.note}` : '', wire?.marked ?? false))]);
    }
  }
  return rows;
}

function moreThan({ wires }: StripScrew, depth: number): string {
  return wires.length > depth ? ` +${wires.length - depth}` : '';
}

function colourCell(wire: StripWire | undefined, wide: number, room: Room): readonly Span[] {
  if (!wire) return [{ text: ' '.repeat(wide) }];
  const look = wire.marked ? { bold: true, tone: 'focus' as const } : {};
  const start: Span = { text: `${room.glyphs.drop} `, ...look };
  if (room.palette.name === 'none' || room.glyphs.name === 'ascii') {
    return [start, { text: padText(clipText(wire.colour, wide - 3, room.glyphs.cut), wide - 2), ...look }];
  }
  const name = clipText(wire.colour, wide - 5, room.glyphs.cut);
  return [
    start,
    { text: room.glyphs.swatch, wire: wire.colour },
    { text: ` ${padText(name, wide - 4)}`, ...look },
  ];
}

// The marked ones and those beside them, nearest first; where others stand between, the row says so.
function around(screws: readonly StripScrew[], fit: number): readonly StripScrew[] {
  if (screws.length <= fit) return screws;
  const marked = screws.flatMap((screw, index) => (screw.marked ? [index] : []));
  const from = marked.length > 0 ? marked : [0];
  const away = (index: number) => Math.min(...from.map((one) => Math.abs(one - index)));
  const nearest = screws.map((_, index) => index).sort((a, b) => away(a) - away(b) || a - b);
  const kept = new Set(nearest.slice(0, fit));
  return screws.filter((_, index) => kept.has(index));
}
