import type { Board, BoardInput } from '../../site/board.ts';
import type { Group } from './group.ts';

/** An input, and the board it is on. */
export type Seat = { readonly board: number; readonly input: BoardInput };

/** The inputs that are asked for and given: to whoever asks first, in survey order. */
export function seatsAsked(groups: readonly Group[], boards: readonly Board[]): Map<Group, Seat> {
  const seats = new Map<Group, Seat>();
  const taken = new Set<BoardInput>();
  for (const group of groups) {
    const asked = group.units.find((unit) => unit.asked !== null)?.asked;
    if (!asked) continue;
    for (const [board, { id, inputs }] of boards.entries()) {
      const input = inputs.find((one) => `${id}/${one.id}` === asked);
      if (!input || taken.has(input)) continue;
      taken.add(input);
      seats.set(group, { board, input });
    }
  }
  return seats;
}

/**
 * Groups that hang together by what `keysOf` gives, in the order of their first.
 *
 * @param mayJoin whether a group may be joined to what it hangs together with; if not, it starts anew
 */
export function clustersOf(
  groups: readonly Group[],
  keysOf: (group: Group) => readonly string[],
  mayJoin: (together: readonly Group[]) => boolean = () => true,
): Group[][] {
  const clusterOf = new Map<string, Group[]>();
  const clusters = new Set<Group[]>();
  for (const group of groups) {
    const keys = keysOf(group);
    const found = new Set(keys.flatMap((key) => (clusterOf.has(key) ? [clusterOf.get(key)!] : [])));
    const joined = [...found].flat();
    const joins = found.size > 0 && mayJoin([...joined, group]);
    const [into = [], ...others] = joins ? [...found] : [];
    clusters.add(into);
    for (const other of others) {
      into.push(...other);
      clusters.delete(other);
      for (const [key, cluster] of clusterOf) if (cluster === other) clusterOf.set(key, into);
    }
    into.push(group);
    for (const key of keys) clusterOf.set(key, into);
  }
  return [...clusters];
}
