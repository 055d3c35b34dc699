import type { Block, Cell } from '../document.ts';

/** A table, or nothing where it has no rows. */
export function table(
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly Cell[])[],
  widths: readonly number[],
): Block[] {
  return rows.length === 0 ? [] : [{ kind: 'table', caption, columns, rows, widths }];
}
