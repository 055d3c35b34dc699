import type { RecordedValue } from '../../job/records.ts';

const WIDTH = 150;
const HEIGHT = 18;

/** Where a reading falls on its scale: figures from 0 (left end) to 1 (right end), null where there is none. */
export type ScaleMarks = {
  readonly window: readonly [number, number] | null;
  /** Beyond the ends where `off` says so. */
  readonly mark: number;
  readonly off: 'left' | 'right' | null;
};

/**
 * The marks of a reading on a scale that shows its expected window in the middle third, so that scales under
 * each other compare. An open circuit stands at the right end.
 *
 * @returns null where nothing was expected or the value is no figure
 *
 * @example
 * scaleMarks({ milli: 1500, open: false, window: { min: 1000, max: 2000 } }) // => { window: [1 / 3, 2 / 3], mark: 0.5, off: null }
 */
export function scaleMarks(value: {
  readonly milli: number | null;
  readonly open: boolean;
  readonly window: Pick<NonNullable<RecordedValue['window']>, 'min' | 'max'> | null;
}): ScaleMarks | null {
  const { milli, open, window } = value;
  if (milli === null && !open) return null;
  const low = window?.min ?? null;
  const high = window?.max ?? null;
  if (low === null || high === null)
    return { window: null, mark: open ? 1 : 0.5, off: open ? 'right' : null };
  const width = Math.max(high - low, 1);
  const place = open ? Number.POSITIVE_INFINITY : 1 / 3 + ((milli! - low) / width) * (1 / 3);
  const off = place < 0 ? 'left' : place > 1 ? 'right' : null;
  return { window: [1 / 3, 2 / 3], mark: Math.min(1, Math.max(0, place)), off };
}

/** A reading drawn on its scale: the expected window as a block, the reading as an upright mark. */
export function ReadingScale({ value, says }: { readonly value: RecordedValue; readonly says: string }) {
  const marks = scaleMarks(value);
  if (marks === null) return null;
  const x = (fraction: number) => 8 + fraction * (WIDTH - 16);
  const at = x(marks.mark);
  return (
    <svg className="scale" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={says}>
      <line x1={x(0)} y1={HEIGHT / 2} x2={x(1)} y2={HEIGHT / 2} stroke="#555" strokeWidth={1} />
      {marks.window && (
        <rect
          x={x(marks.window[0])}
          y={5}
          width={x(marks.window[1]) - x(marks.window[0])}
          height={8}
          fill="#ddd"
          stroke="#555"
          strokeWidth={0.8}
        />
      )}
      {marks.off === null ? (
        <line x1={at} y1={1} x2={at} y2={HEIGHT - 1} stroke="#111" strokeWidth={3} />
      ) : (
        <path
          d={marks.off === 'left' ? `M${at} 9 l7 -6 v12 z` : `M${at} 9 l-7 -6 v12 z`}
          fill="#fff"
          stroke="#111"
          strokeWidth={2}
        />
      )}
    </svg>
  );
}
