/**
 * What to write so that a terminal that shows `before` shows `after`. Rows are addressed by number, so nothing
 * depends on where the cursor is or how the terminal reflowed at a resize; `before` null clears all first.
 */
export function paint(
  before: readonly string[] | null,
  after: readonly string[],
  cursor: { readonly row: number; readonly column: number } | null,
): string {
  let out = before === null ? '\x1b[0m\x1b[2J' : '';
  const rows = Math.max(before?.length ?? 0, after.length);
  for (let row = 0; row < rows; row++) {
    if (before !== null && before[row] === after[row]) continue;
    // Cleared before it is written: after a full row a terminal would clear its last column.
    out += `\x1b[${row + 1};1H\x1b[2K${after[row] ?? ''}\x1b[0m`;
  }
  const placed = cursor ? `\x1b[${cursor.row + 1};${cursor.column + 1}H\x1b[?25h` : '\x1b[?25l';
  return `\x1b[?2026h\x1b[?25l${out}${placed}\x1b[?2026l`;
}

/** The screen of its own, with the keypad as digits and the cursor hidden. */
export const ENTER = '\x1b[?1049h\x1b>\x1b[?25l\x1b[0m\x1b[2J\x1b[H';

/** Everything back as it was. May be written twice. */
export const LEAVE = '\x1b[?2026l\x1b[0m\x1b[?25h\x1b[?1049l';
