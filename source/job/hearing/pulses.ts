import { type HeardChange, inputIdOf } from './hearing.ts';

/** An input left its rest and came back to it. */
export type Pulse = {
  readonly id: string;
  readonly workedAt: number;
  /** Null while it has not come back. */
  readonly restoredAt: number | null;
  /** How often it left its rest, each time within a moment of the last. */
  readonly times: number;
};

/** A contact that comes back and leaves again within so long bounces, or is worked in haste. Common practice, no source. */
const BOUNCE_MILLISECONDS = 1000;
/**
 * So often within bounces it chatters. Twice may come of a message sent again: MQTT 5.0 4.6 lets a series be repeated from
 * any point of it, so that one pulse is heard as two.
 */
export const CHATTER_TIMES = 3;

/**
 * The pulses in what was heard, by when they began. What was heard first of an input counts as leaving its rest, where it is
 * not its rest.
 *
 * @param restOf how an input stands while all is quiet; null where nobody looks at it
 */
export function pulsesOf(
  changes: readonly HeardChange[],
  restOf: (id: string) => 'open' | 'closed' | null,
): readonly Pulse[] {
  const pulses: Pulse[] = [];
  const last = new Map<string, number>();
  for (const change of changes) {
    const id = inputIdOf(change);
    const rest = restOf(id);
    if (rest === null) continue;
    const index = last.get(id);
    const open = index === undefined ? undefined : pulses[index];
    const { atMilliseconds: at, more } = change;
    const often = Math.ceil(more / 2);
    if (change.state === rest) {
      if (index !== undefined && open && open.restoredAt === null)
        pulses[index] = { ...open, restoredAt: at, times: open.times + often };
    } else if (index !== undefined && open && isBounce(open, at)) {
      pulses[index] = { ...open, restoredAt: null, times: open.times + 1 + often };
    } else {
      last.set(id, pulses.length);
      pulses.push({ id, workedAt: at, restoredAt: null, times: 1 + often });
    }
  }
  return pulses;
}

function isBounce({ restoredAt }: Pulse, at: number): boolean {
  return restoredAt === null || at - restoredAt <= BOUNCE_MILLISECONDS;
}
