import type { Room } from './frame.ts';
import { clipLine, type Line, lineWidth } from './line.ts';

/** Two columns of rows beside each other, parted by a line. */
export function beside(
  left: readonly Line[],
  right: readonly Line[],
  leftColumns: number,
  rightColumns: number,
  room: Room,
): readonly Line[] {
  const rows = Math.max(left.length, Math.min(right.length, room.rows - 6));
  return Array.from({ length: rows }, (_, row): Line => {
    const first = clipLine(left[row] ?? [], leftColumns, room.glyphs.cut);
    const second = clipLine(right[row] ?? [], rightColumns, room.glyphs.cut);
    if (second.length === 0) return first;
    return [
      ...first,
      { text: ' '.repeat(leftColumns - lineWidth(first)) },
      { text: `${room.glyphs.drop} `, tone: 'quiet' },
      ...second,
    ];
  });
}
