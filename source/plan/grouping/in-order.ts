import type { Load, Room } from './load.ts';
import { firstWay, packing } from './pack.ts';

/** Searches, times loads, and ways they may try, that may go into standing in survey order on boards nearly full. */
const MOST_ORDERING = 5_000;
const TRIES_ORDERING = 3_000;

/**
 * A board for each load, the first way in the order of loads and boards: what stands together in the survey
 * stands together on the boards. Where boards are nearly full, the order is kept as far as is worth the search.
 */
export function inOrder(
  loads: readonly Load[],
  rooms: readonly Room[],
  tries: number,
): readonly number[] | 'none' | 'given-up' {
  const plain = firstWay(loads, rooms);
  if (plain) return plain;
  const settled = new Array<number | null>(loads.length).fill(null);
  let found = packing(loads, rooms, tries)(settled);
  if (typeof found === 'string') return found;
  const search = packing(loads, rooms, TRIES_ORDERING);
  let searches = Math.floor(MOST_ORDERING / loads.length);
  for (let load = 0; load < loads.length; load++) {
    for (let board = 0; board < found[load]! && searches > 0; board++) {
      settled[load] = board;
      searches -= 1;
      const sooner = search(settled);
      if (typeof sooner !== 'string') found = sooner;
    }
    settled[load] = found[load]!;
  }
  return found;
}

/** Whether there is any way at all. */
export function isThereAWay(
  loads: readonly Load[],
  rooms: readonly Room[],
  tries: number,
): 'yes' | 'none' | 'given-up' {
  if (firstWay(loads, rooms)) return 'yes';
  const found = packing(loads, rooms, tries)(loads.map(() => null));
  return typeof found === 'string' ? found : 'yes';
}
