import type { RecordedValue } from '../../job/records.ts';

const WIDTH = 150;
const HEIGHT = 18;

/** Where a reading falls on its scale: figures from 0 (left end) to 1 (right end). */
type ScaleMarks = {
  readonly window: readonly [number, number];
  /** At an end where `off` says that it lies beyond. */
  readonly mark: number;
  readonly off: 'left' | 'right' | null;
};

/**
 * The marks of a reading on a scale that shows its expected window in the middle third, so that scales under
 * each other compare. Where an open circuit is expected, the window is the right third.
 *
 * @returns null where nothing was expected or the value is no figure
 *
 * @example
 * scaleMarks({ milli: 1500, open: false, window: { min: 1000, max: 2000, usableMin: null, usableMax: null } }) // => { window: [1 / 3, 2 / 3], mark: 0.5, off: null }
 */
export function scaleMarks(value: Pick<RecordedValue, 'milli' | 'open' | 'window'>): ScaleMarks | null {
  const { milli, open, window } = value;
  if ((milli === null && !open) || window === null) return null;
  const low = window.min ?? (window.max === null ? window.usableMin : 0);
  if (low === null) return null;
  if (window.max === null) {
    const mark = open ? 1 : Math.min(0.9, Math.max(0, (milli! / Math.max(low, 1)) * (2 / 3)));
    return { window: [2 / 3, 1], mark, off: open ? 'right' : null };
  }
  const width = Math.max(window.max - low, 1);
  const place = open ? Number.POSITIVE_INFINITY : 1 / 3 + ((milli! - low) / width) * (1 / 3);
  const off = place < 0 ? 'left' : place > 1 ? 'right' : null;
  return { window: [1 / 3, 2 / 3], mark: Math.min(1, Math.max(0, place)), off };
}

/** A reading drawn on its scale: the expected window as a block, the reading as an upright mark or an arrow beyond it. */
export function ReadingScale({ value, says }: { readonly value: RecordedValue; readonly says: string }) {
  const marks = scaleMarks(value);
  if (marks === null) return null;
  const x = (fraction: number) => 8 + fraction * (WIDTH - 16);
  const at = x(marks.mark);
  const [from, to] = marks.window;
  return (
    <svg className="scale" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={says}>
      <title>{says}</title>
      <line x1={x(0)} y1={HEIGHT / 2} x2={x(1)} y2={HEIGHT / 2} stroke="#555" strokeWidth={1} />
      <rect
        x={x(from)}
        y={4}
        width={x(to) - x(from)}
        height={10}
        fill="#ddd"
        stroke="#555"
        strokeWidth={0.8}
      />
      {marks.off === null ? (
        <line x1={at} y1={1} x2={at} y2={HEIGHT - 1} stroke="#111" strokeWidth={3} />
      ) : (
        <path d={marks.off === 'left' ? `M${at} 9l8 -6v12z` : `M${at} 9l-8 -6v12z`} fill="#111" />
      )}
    </svg>
  );
}
