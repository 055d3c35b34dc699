import { ASKED, LOSS, MIX, mayStandTogether } from './cost.ts';
import { type Item, joinsBetween, unitsOf } from './items.ts';

/** Rounds through all items; most end sooner because nothing gets better. */
const MOST_ROUNDS = 12;

/**
 * Moves an item to another group, or swaps two, as long as the whole gets better by it: less lost, then fewer
 * groups that mix places, then fewer joins parted. The number of groups stays. Gives the group of every item.
 */
export function polish(
  items: readonly Item[],
  vector: readonly number[],
  sharing: readonly ReadonlySet<string>[],
  isUniform: boolean,
): number[] {
  const groupOf = [...vector];
  const count = Math.max(...vector) + 1;
  const heaps = Array.from({ length: count }, () => new Heap());
  for (const [index, group] of vector.entries()) heaps[group]!.add(items[index]!, 1);
  const joined = joinsBetween(items).map((row) =>
    row.flatMap((joins, other) => (joins > 0 ? [[other, joins] as const] : [])),
  );
  for (let round = 0, better = true; better && round < MOST_ROUNDS; round++) {
    better = false;
    for (let index = 0; index < items.length; index++) {
      for (let to = 0; to < count; to++) if (trade(index, null, to)) better = true;
      for (let other = index + 1; other < items.length; other++)
        if (trade(index, other, groupOf[other]!)) better = true;
    }
  }
  return groupOf;

  /** Lets an item go to a group, and one of that group, if any, come back; answers whether that was better. */
  function trade(index: number, back: number | null, to: number): boolean {
    const from = groupOf[index]!;
    if (from === to) return false;
    const here = heaps[from]!;
    const there = heaps[to]!;
    if (back === null && here.items < 2) return false;
    const goes = items[index]!;
    const comes = back === null ? null : items[back]!;
    const lost = (heap: Heap, size: number, importance: number) =>
      (heap.importance + importance) * (heap.size + size - 1) - heap.importance * (heap.size - 1);
    const size = goes.size - (comes?.size ?? 0);
    const importance = goes.importance - (comes?.importance ?? 0);
    const loss = lost(here, -size, -importance) + lost(there, size, importance);
    // Nearly every trade ends here.
    if (loss > 0) return false;
    const before = keptBy(index, from) + (back === null ? 0 : keptBy(back, to)) + here.rest + there.rest;
    change(-1);
    groupOf[index] = to;
    if (back !== null) groupOf[back] = from;
    const after = keptBy(index, to) + (back === null ? 0 : keptBy(back, from)) + here.rest + there.rest;
    if (loss * LOSS + after - before < 0 && isAllowed(from) && isAllowed(to)) return true;
    change(1);
    groupOf[index] = from;
    if (back !== null) groupOf[back] = to;
    return false;

    function change(way: 1 | -1): void {
      here.add(goes, way);
      there.add(goes, -way as 1 | -1);
      if (!comes) return;
      here.add(comes, -way as 1 | -1);
      there.add(comes, way);
    }
  }

  /** Joins that an item keeps in a group count down, as in {@link MIX}'s order. */
  function keptBy(index: number, group: number): number {
    let kept = 0;
    for (const [other, joins] of joined[index]!)
      if (other !== index && groupOf[other] === group) kept -= joins;
    return kept;
  }

  function isAllowed(group: number): boolean {
    if (isUniform) return heaps[group]!.asking <= 1;
    return mayStandTogether(unitsOf(items.filter((_, index) => groupOf[index] === group)), sharing);
  }
}

/** Sums over one group. */
class Heap {
  items = 0;
  size = 0;
  importance = 0;
  asking = 0;
  readonly #places = [0, 0, 0, 0];

  add(item: Item, times: 1 | -1): void {
    this.items += times;
    this.size += times * item.size;
    this.importance += times * item.importance;
    if (item.asked !== null) this.asking += times;
    for (let bit = 0; bit < this.#places.length; bit++)
      if (item.places & (1 << bit)) this.#places[bit]! += times;
  }

  /** What a group costs beside its loss and its joins. */
  get rest(): number {
    const mixes = this.#places.filter((items) => items > 0).length > 1;
    return (mixes ? MIX : 0) + (this.asking > 0 ? ASKED : 0);
  }
}
