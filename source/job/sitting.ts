import type { Moment } from '../journal/clock.ts';
import type { InterruptedWhy, Sitting } from '../procedure/state.ts';

/** Who was there, and when last something was recorded. */
type Presence = {
  readonly sitting: Sitting;
  readonly person: string | null;
  /** When something was last recorded. */
  readonly last: Pick<Moment, 'wall' | 'uptime' | 'boot'>;
  /** Until when the person said to be out of reach, wall clock; null where nothing was said. */
  readonly awayUntil: number | null;
};

/** What ended a sitting, and how long after the last record. */
export type Break = { readonly why: InterruptedWhy; readonly gapSeconds: number };

/** Wall clock and uptime may differ by this much over a gap before one of them was set. */
const CLOCKS_AGREE_MILLISECONDS = 2000;

/**
 * What broke the sitting since the last record, or null where it goes on: one person at one job without a break.
 *
 * @param by who acts now; null where nobody says, which is the person of the sitting
 * @param allowedSeconds the gap that the job's policy allows
 * @example sittingBreak({ sitting: 'act', person: 'p1', last: { wall: 0, uptime: 0, boot: 'b' }, awayUntil: null }, 'act', 'p1', { wall: 1e6, uptime: 1e6, boot: 'b' }, 900) // => { why: 'gap', gapSeconds: 1000 }
 */
export function sittingBreak(
  before: Presence,
  sitting: Sitting,
  by: string | null,
  now: Pick<Moment, 'wall' | 'uptime' | 'boot'>,
  allowedSeconds: number,
): Break | null {
  const wallGap = now.wall - before.last.wall;
  const gapSeconds = Math.max(0, Math.round(wallGap / 1000));
  const because = (why: InterruptedWhy): Break => ({ why, gapSeconds });
  if (before.sitting !== sitting) return because('new-sitting');
  if (before.last.boot !== now.boot) return because('boot');
  const uptimeGap = now.uptime - before.last.uptime;
  if (uptimeGap < 0 || Math.abs(wallGap - uptimeGap) > CLOCKS_AGREE_MILLISECONDS) return because('clock');
  if (by !== null && before.person !== null && by !== before.person) return because('person');
  const until = Math.max(before.last.wall + allowedSeconds * 1000, before.awayUntil ?? 0);
  return now.wall > until ? because('gap') : null;
}
