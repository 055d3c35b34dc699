/** A sheet of labels: figures in millimetres. */
export type LabelSheet = {
  readonly name: string;
  readonly page: { readonly width: number; readonly height: number };
  readonly columns: number;
  readonly rows: number;
  readonly label: { readonly width: number; readonly height: number };
  readonly margin: { readonly left: number; readonly top: number };
  readonly gap: { readonly across: number; readonly down: number };
};

/** Two sizes that stationers sell in many makes: 65 on A4, 80 on US letter. Common practice, no source. */
export const LABEL_SHEETS: Readonly<Record<string, LabelSheet>> = {
  'a4-65': {
    name: 'A4, 65 labels of 38.1 × 21.2 mm',
    page: { width: 210, height: 297 },
    columns: 5,
    rows: 13,
    label: { width: 38.1, height: 21.2 },
    margin: { left: 4.75, top: 10.7 },
    gap: { across: 2.5, down: 0 },
  },
  'letter-80': {
    name: 'US letter, 80 labels of 1 3/4 × 1/2 in',
    page: { width: 215.9, height: 279.4 },
    columns: 4,
    rows: 20,
    label: { width: 44.45, height: 12.7 },
    margin: { left: 7.6, top: 12.7 },
    gap: { across: 7.6, down: 0 },
  },
};

/** What {@link readLabelSheet} takes, in words. */
export const SHEETS_ACCEPTED =
  'a4-65, letter-80, or page, columns x rows and label in millimetres, then margin and gap if need be: "210x297 3x8 70x36 0x4.5 0x0"';

/**
 * A sheet by its name, or by its sizes in millimetres, width before height: page, columns and rows, label, margin
 * (centred where it is left out), gap (none where it is left out).
 *
 * @returns null where it is neither, or where the labels do not stand on the page
 *
 * @example
 * readLabelSheet('210x297 3x8 70x36')?.margin // => { left: 0, top: 4.5 }
 */
export function readLabelSheet(text: string): LabelSheet | null {
  const shipped = Object.hasOwn(LABEL_SHEETS, text) ? LABEL_SHEETS[text] : undefined;
  if (shipped !== undefined) return shipped;
  const pairs = text.trim().split(/\s+/).map(pairOf);
  const [page, grid, label, margin, gap = [0, 0]] = pairs;
  if (pairs.length > 5 || !page || !grid || !label || margin === null || gap === null) return null;
  const [columns, rows] = grid;
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 1 || rows < 1) return null;
  if (label[0] < SMALLEST.width || label[1] < SMALLEST.height) return null;
  const used = [columns * (label[0] + gap[0]) - gap[0], rows * (label[1] + gap[1]) - gap[1]] as const;
  const [left, top] = margin ?? [round((page[0] - used[0]) / 2), round((page[1] - used[1]) / 2)];
  if (left < 0 || top < 0 || left + used[0] > page[0] + 0.01 || top + used[1] > page[1] + 0.01) return null;
  return {
    name: `${page[0]} × ${page[1]} mm, ${columns * rows} labels of ${label[0]} × ${label[1]} mm`,
    page: { width: page[0], height: page[1] },
    columns,
    rows,
    label: { width: label[0], height: label[1] },
    margin: { left, top },
    gap: { across: gap[0], down: gap[1] },
  };
}

/** Smaller, and an identifier could not be read on it any more. */
const SMALLEST = { width: 15, height: 9 };

function pairOf(text: string): readonly [number, number] | null {
  const [, width, height] = text.match(/^(\d{1,3}(?:\.\d{1,2})?)x(\d{1,3}(?:\.\d{1,2})?)$/) ?? [];
  return width === undefined ? null : [Number(width), Number(height)];
}

function round(millimetres: number): number {
  return Math.round(millimetres * 100) / 100;
}
