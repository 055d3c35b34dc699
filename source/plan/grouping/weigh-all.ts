import { ASKED, LOSS, MIX, mayStandTogether, mixesPlaces } from './cost.ts';
import { type Item, isUniform, joinsBetween, unitsOf } from './items.ts';

/** Up to this many items every grouping is weighed, ties included. */
export const WEIGH_ALL = 12;

/** Of every number of groups the least cost and the grouping that reaches it; index: number of groups. */
export type Weighed = {
  /** `Infinity` where that number is not possible. */
  readonly cost: readonly number[];
  /** Group number of every item, numbered by first appearance. */
  readonly vectorOf: (groups: number) => number[];
};

/**
 * Dynamic programming over subsets: the first item's group is chosen, then the rest is a smaller question.
 * Exact, ties settled by the vector of group numbers that sorts first.
 */
export function weighAll(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): Weighed {
  const n = items.length;
  const full = (1 << n) - 1;
  // The first item holds the highest bit, so that subsets counted down come in the order of their vectors.
  const groupCost = costOfSubsets(items, sharing);
  // What is left once the first item has its group never holds the highest bit.
  const left = 1 << (n - 1);
  let fewer = new Float64Array(left).fill(Infinity);
  fewer[0] = 0;
  const chosen: Int32Array[] = [];
  const cost = [Infinity];
  const first: number[] = [0];
  for (let groups = 1; groups <= n; groups++) {
    const [sum, choice] = bestFor(full, fewer);
    cost.push(sum);
    first.push(choice);
    const next = new Float64Array(left).fill(Infinity);
    const choices = new Int32Array(left);
    for (let set = 1; set < left; set++) {
      if (bitsIn(set) < groups) continue;
      const best = bestFor(set, fewer);
      next[set] = best[0];
      choices[set] = best[1];
    }
    chosen.push(choices);
    fewer = next;
  }
  return { cost, vectorOf };

  /** The cheapest group for the first item of a set, the rest in as many groups as `after` is of. */
  function bestFor(set: number, after: Float64Array): [number, number] {
    const lead = 1 << (31 - Math.clz32(set));
    const rest = set ^ lead;
    let least = Infinity;
    let choice = 0;
    for (let with_ = rest; ; with_ = (with_ - 1) & rest) {
      const sum = groupCost[lead | with_]! + after[rest ^ with_]!;
      if (sum < least) {
        least = sum;
        choice = lead | with_;
      }
      if (with_ === 0) return [least, choice];
    }
  }

  function vectorOf(groups: number): number[] {
    const numbers = new Array<number>(n).fill(0);
    let set = full;
    for (let group = 0; group < groups; group++) {
      const members = group === 0 ? first[groups]! : chosen[groups - group - 1]![set]!;
      for (let index = 0; index < n; index++) if (members & (1 << (n - 1 - index))) numbers[index] = group;
      set ^= members;
    }
    return numbers;
  }
}

/** What each subset costs as one group, from the subset without its last item. */
function costOfSubsets(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): Float64Array {
  const n = items.length;
  const size = new Float64Array(1 << n);
  const importance = new Float64Array(1 << n);
  const places = new Uint8Array(1 << n);
  const kept = new Float64Array(1 << n);
  const asks = new Uint8Array(1 << n);
  const cost = new Float64Array(1 << n).fill(Infinity);
  const joins = joinsBetween(items);
  const uniform = isUniform(items, sharing);
  for (let set = 1; set < 1 << n; set++) {
    const low = set & -set;
    const without = set ^ low;
    const at = n - 1 - (31 - Math.clz32(low));
    const item = items[at]!;
    size[set] = size[without]! + item.size;
    importance[set] = importance[without]! + item.importance;
    places[set] = places[without]! | item.places;
    asks[set] = asks[without]! + Number(item.asked !== null);
    kept[set] = kept[without]! + joins[at]![at]!;
    for (let other = 0; other < at; other++)
      if (without & (1 << (n - 1 - other))) kept[set] = kept[set]! + joins[at]![other]!;
    // What may not stand together does not with more beside it either.
    if (without !== 0 && cost[without] === Infinity) continue;
    if (uniform ? asks[set]! > 1 : !mayStandTogether(membersOf(set), sharing)) continue;
    // Joins kept count down, so that their sum orders as parted joins do.
    cost[set] =
      (asks[set] ? ASKED : 0) +
      importance[set]! * (size[set]! - 1) * LOSS +
      (mixesPlaces(places[set]!) ? MIX : 0) -
      kept[set]!;
  }
  return cost;

  function membersOf(set: number) {
    return unitsOf(items.filter((_, index) => set & (1 << (n - 1 - index))));
  }
}

function bitsIn(set: number): number {
  let bits = 0;
  for (let left = set; left !== 0; left &= left - 1) bits += 1;
  return bits;
}
