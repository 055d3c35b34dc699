/** The part of a long list that is shown: the row in hand stays in the middle where it can. */
export function windowed<T>(rows: readonly T[], at: number, space: number): readonly T[] {
  if (rows.length <= space) return rows;
  const from = Math.max(0, Math.min(rows.length - space, at - Math.floor(space / 2)));
  return rows.slice(from, from + space);
}
