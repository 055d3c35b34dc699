import { formatQuantity } from '../../electrical/quantity.ts';
import { highWords, lowWords, spanWords } from '../../electrical/window-words.ts';
import type { FallLook } from './fall-look.ts';
import type { Glyphs } from './glyphs.ts';
import { type Line, type Span, widthOf } from './line.ts';
import type { Tone } from './palette.ts';

/** The windows of one reading. `usable.max` null: no upper limit. `open`: is an open circuit expected? */
export type ScaleWindows = {
  readonly quantity: 'ohms' | 'volts' | 'amps';
  readonly min: number | null;
  readonly max: number | null;
  readonly usable: { readonly min: number; readonly max: number | null } | null;
  readonly open: 'must' | 'may' | 'no';
};

// A window may have one end only.
function hasWindow({ min, max }: ScaleWindows): boolean {
  return min !== null || max !== null;
}

function isWithin(value: number, min: number | null, max: number | null): boolean {
  return (min === null || value >= min) && (max === null || value <= max);
}

/**
 * What the windows say, in figures.
 *
 * @example windowWords({ quantity: 'volts', min: 11.4, max: 12.6, usable: null, open: 'no' }) // => 'expected 11.4 to 12.6 V'
 */
export function windowWords(windows: ScaleWindows): string {
  const { min, max, usable, quantity, open } = windows;
  const range = spanWords(min, max, quantity);
  const expected =
    open === 'must'
      ? 'expected OL, an open circuit'
      : range === ''
        ? `nothing is expected here: type what it shows${open === 'may' ? ', or OL' : ''}`
        : `expected ${range}${open === 'may' ? ', or OL' : ''}`;
  const allowed = usable && spanWords(usable.min, usable.max, quantity);
  return allowed && allowed !== range ? `${expected}; usable ${allowed}` : expected;
}

/**
 * The reading as a picture, three rows: where the entry fell, the axis with its windows, the figures at the
 * window's ends. Zero, or what is allowed below it, stands at the left; an open circuit has a place of its own at the right.
 *
 * @param read the value, and how it was judged to fall
 */
export function drawScale(
  windows: ScaleWindows,
  read: { readonly value: number; readonly look: FallLook } | null,
  width: number,
  glyphs: Glyphs,
): readonly Line[] {
  const ohms = windows.quantity === 'ohms';
  const openPart = ohms ? 6 : 0;
  const cells = Math.max(10, width - openPart - 2);
  const place = placer(windows, read?.value ?? null, cells);
  return [
    read === null ? [] : markRow(placeOf(windows, read.value, place, cells), read, windows, width, glyphs),
    [...axis(windows, place, cells, glyphs), ...(ohms ? openEnd(windows, glyphs) : [])],
    [{ text: figures(windows, place, cells), tone: 'quiet' }],
  ];
}

function placeOf(
  { quantity }: ScaleWindows,
  value: number,
  place: (value: number) => number,
  cells: number,
): number {
  return value === Number.POSITIVE_INFINITY && quantity === 'ohms' ? cells + 3 : place(value);
}

function placer(windows: ScaleWindows, value: number | null, cells: number): (value: number) => number {
  const ends = [windows.min, windows.max, windows.usable?.min, windows.usable?.max].filter(
    (end): end is number => typeof end === 'number' && Number.isFinite(end),
  );
  const low = Math.min(0, ...ends);
  const upper = (Math.max(...ends, low) || 1) * 1.2;
  // The axis reaches out to a value not far off; what is farther stands at its end.
  const high =
    value === null || !Number.isFinite(value) ? upper : Math.max(upper, Math.min(upper * 3, value * 1.1));
  const near = windows.max ?? windows.min ?? windows.usable?.min ?? high;
  // A narrow window far below a wide one would shrink to nothing: the axis is then bent, steep near zero.
  const bend = near > 0 && high / near > 5 ? near / 2 : null;
  const bent = (value: number) => (bend === null ? value : Math.asinh(value / bend));
  const [from, to] = [bent(low), bent(high)];
  return (at) => {
    const share = (bent(Math.min(high, Math.max(low, at))) - from) / (to - from);
    return Math.min(cells - 1, Math.max(0, Math.round(share * (cells - 1))));
  };
}

function axis(
  windows: ScaleWindows,
  place: (value: number) => number,
  cells: number,
  glyphs: Glyphs,
): Span[] {
  const { min, max, usable } = windows;
  const placed = (end: number | null) => (end === null ? null : place(end));
  const spans: Span[] = [];
  for (let cell = 0; cell < cells; cell++) {
    const allowed = usable !== null && isWithin(cell, place(usable.min), placed(usable.max));
    // What is expected and does not pass is not drawn as a place to be.
    const expected =
      hasWindow(windows) && isWithin(cell, placed(min), placed(max)) && (usable === null || allowed);
    const kind = expected ? 'window' : allowed ? 'usable' : 'axis';
    const tone: Tone | null = expected ? 'good' : allowed ? 'caution' : null;
    const last = spans.at(-1);
    if (last && last.tone === (tone ?? undefined))
      spans[spans.length - 1] = { ...last, text: last.text + glyphs[kind] };
    else spans.push({ text: glyphs[kind], ...(tone && { tone }) });
  }
  return [{ text: glyphs.left }, ...spans, { text: glyphs.right }];
}

function openEnd(windows: ScaleWindows, glyphs: Glyphs): Span[] {
  const fits = windows.open !== 'no';
  return [
    { text: ' ' },
    { text: fits ? `${glyphs.window}OL${glyphs.window}` : ' OL ', ...(fits && { tone: 'good' as const }) },
  ];
}

function markRow(
  at: number,
  { value, look: fall }: { readonly value: number; readonly look: FallLook },
  { quantity }: ScaleWindows,
  width: number,
  glyphs: Glyphs,
): Line {
  const shown = Number.isFinite(value) ? formatQuantity(value, quantity) : 'OL';
  const label = `${shown} ${glyphs[fall.sign]} ${fall.says}`;
  const before = at + 1;
  const look = { tone: fall.tone, bold: true } as const;
  if (before + 2 + widthOf(label) <= width) {
    return [{ text: ' '.repeat(before) }, { text: `${glyphs.mark} ${label}`, ...look }];
  }
  const left = Math.max(0, before - widthOf(label) - 1);
  return [{ text: ' '.repeat(left) }, { text: `${label} ${glyphs.mark}`, ...look }];
}

// The figure of a window's lower end stands to the left of it, that of its upper end to the right.
function figures(windows: ScaleWindows, place: (value: number) => number, cells: number): string {
  const show = (value: number) => formatQuantity(value, windows.quantity);
  const row = [...' '.repeat(cells + 2)];
  const put = (text: string, at: number): void => {
    const from = Math.max(0, Math.min(cells + 2 - widthOf(text), at));
    const free = row.slice(Math.max(0, from - 1), from + widthOf(text) + 1).every((cell) => cell === ' ');
    if (free) row.splice(from, widthOf(text), ...text);
  };
  const { min, max, usable } = windows;
  const low = (value: number) => lowWords(value, windows.quantity);
  const high = (value: number) => highWords(value, windows.quantity);
  if (min !== null) put(low(min), place(min) + 2 - widthOf(low(min)));
  if (max !== null) put(high(max), place(max) + 1);
  if (usable)
    put(usable.max === null ? low(usable.min) : high(usable.max), place(usable.max ?? usable.min) + 1);
  put(show(Math.min(0, min ?? 0, usable?.min ?? 0)), 0);
  return row.join('').trimEnd();
}
