import type { JsonObject } from './canonical.ts';
import type { JournalRecord } from './record.ts';
import type { System } from './system.ts';

/** The clocks of the computer at one moment. */
export type Moment = {
  readonly wall: number;
  /** Stands still in sleep; null where it was read by another program. */
  readonly mono: number | null;
  /** Runs on in sleep. */
  readonly uptime: number;
  readonly boot: string;
};

/** Clocks that disagree by less are taken to run together; a clock that is slewed never gets so far. */
const TOLERANCE_MILLISECONDS = 2_000;

/** What all clocks of the computer say now. */
export function momentOf(system: System): Moment {
  return {
    wall: system.now().getTime(),
    mono: system.monotonicMilliseconds(),
    uptime: system.uptimeMilliseconds(),
    boot: system.bootId(),
  };
}

/** What a record says of the clocks so that a later program can compare. */
export function stampOf(moment: Moment): { readonly boot: string; readonly uptime: number } {
  return { boot: moment.boot, uptime: moment.uptime };
}

/** The moment a record was written, if it says so. */
export function momentIn(record: JournalRecord): Moment | null {
  const { boot, uptime } = record.data;
  if (typeof boot !== 'string' || typeof uptime !== 'number') return null;
  return { wall: Date.parse(record.at), mono: null, uptime, boot };
}

/** Whether wall clock and monotonic clock have run together since; the quick look before every record. */
export function runsOn(before: Moment, system: System): boolean {
  if (before.mono === null) return false;
  const wall = system.now().getTime() - before.wall;
  return Math.abs(wall - (system.monotonicMilliseconds() - before.mono)) <= TOLERANCE_MILLISECONDS;
}

/**
 * How the wall clock moved against the clocks that cannot be set, as the data of a `clock` record; null while
 * they agree. `looksLike`: `sleep` where only the clock that stops in sleep disagrees, `clock-set` otherwise.
 * After a restart of the computer only a step back can be seen.
 */
export function clockJump(before: Moment, now: Moment): JsonObject | null {
  const wall = now.wall - before.wall;
  const found = (jump: number, looksLike: 'sleep' | 'clock-set'): JsonObject => ({
    ...stampOf(now),
    before: new Date(before.wall).toISOString(),
    jump: Math.round(jump),
    looksLike,
  });
  if (before.boot !== now.boot) return wall < 0 ? found(wall, 'clock-set') : null;
  const againstUptime = wall - (now.uptime - before.uptime);
  if (Math.abs(againstUptime) > TOLERANCE_MILLISECONDS) return found(againstUptime, 'clock-set');
  if (before.mono === null || now.mono === null) return null;
  const againstMono = wall - (now.mono - before.mono);
  return Math.abs(againstMono) > TOLERANCE_MILLISECONDS ? found(againstMono, 'sleep') : null;
}
