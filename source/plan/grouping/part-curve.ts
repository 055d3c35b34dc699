import { costOf, lossOf, mayStandTogether } from './cost.ts';
import type { Unit } from './units.ts';

/**
 * A part of the site whose units may share inputs with each other and with nothing else. For every number of
 * groups: the least cost, and the grouping that reaches it.
 */
export type PartCurve = {
  readonly units: readonly Unit[];
  /** Index: number of groups; `Infinity` where that number is not possible. */
  readonly cost: readonly number[];
  /** Group number of every unit, numbered by first appearance, for each number of groups. */
  readonly vector: readonly (readonly number[] | null)[];
  /** No grouping loses less; equals the loss where `exact`. */
  readonly lossBound: readonly number[];
  readonly exact: boolean;
};

/** Up to this many units every grouping is weighed, ties included. */
const WEIGH_ALL = 12;

/**
 * The least loss of one part for every number of groups; exact up to twelve units, beyond that with a bound
 * on what could be better.
 */
export function computePartCurve(units: readonly Unit[], sharing: readonly ReadonlySet<string>[]): PartCurve {
  return units.length <= WEIGH_ALL ? weighAll(units, sharing) : weighSorted(units, sharing);
}

/** Dynamic programming over subsets: exact, ties settled by the vector of group numbers that sorts first. */
function weighAll(units: readonly Unit[], sharing: readonly ReadonlySet<string>[]): PartCurve {
  const n = units.length;
  const full = (1 << n) - 1;
  // The first unit holds the highest bit, so that subsets counted down come in the order of their vectors.
  const bitOf = (index: number) => 1 << (n - 1 - index);
  const groupCost = new Float64Array(full + 1).fill(Infinity);
  for (let set = 1; set <= full; set++) {
    const members = units.filter((_, index) => set & bitOf(index));
    if (mayStandTogether(members, sharing)) groupCost[set] = costOf(members);
  }

  const best: Float64Array[] = [new Float64Array(full + 1).fill(Infinity)];
  const chosen: Int32Array[] = [new Int32Array(full + 1)];
  best[0]![0] = 0;
  for (let groups = 1; groups <= n; groups++) {
    const fewer = best[groups - 1]!;
    const cost = new Float64Array(full + 1).fill(Infinity);
    const choice = new Int32Array(full + 1);
    for (let set = 1; set <= full; set++) {
      const lead = 1 << (31 - Math.clz32(set));
      const rest = set ^ lead;
      for (let with_ = rest; ; with_ = (with_ - 1) & rest) {
        const sum = groupCost[lead | with_]! + fewer[rest ^ with_]!;
        if (sum < cost[set]!) {
          cost[set] = sum;
          choice[set] = lead | with_;
        }
        if (with_ === 0) break;
      }
    }
    best.push(cost);
    chosen.push(choice);
  }

  const cost = best.map((row) => row[full]!);
  const vector = cost.map((sum, groups) => (sum === Infinity ? null : vectorOf(groups)));
  return {
    units,
    cost,
    vector,
    lossBound: vector.map((v) => (v ? lossOfVector(units, v) : Infinity)),
    exact: true,
  };

  function vectorOf(groups: number): number[] {
    const numbers = new Array<number>(n).fill(0);
    let set = full;
    for (let group = 0; group < groups; group++) {
      const members = chosen[groups - group]![set]!;
      for (let index = 0; index < n; index++) if (members & bitOf(index)) numbers[index] = group;
      set ^= members;
    }
    return numbers;
  }
}

/**
 * Many units: for units of equal size the dearest stand in the smallest groups, so a least grouping is found
 * among those that cut the list sorted by importance. Sizes that differ, or inputs asked for, make the same
 * cut a good grouping without proof; the bound then tells how far it may be off.
 */
function weighSorted(units: readonly Unit[], sharing: readonly ReadonlySet<string>[]): PartCurve {
  const n = units.length;
  const order = units
    .map((_, index) => index)
    .sort((a, b) => units[b]!.importance / units[b]!.size - units[a]!.importance / units[a]!.size || a - b);
  const equalSize = units.every((unit) => unit.size === units[0]!.size);
  const together = mayStandTogether(units, sharing);
  const { cost, cuts } = cutSorted(
    order.map((index) => units[index]!),
    (members) => (together || mayStandTogether(members, sharing) ? costOf(members) : Infinity),
  );
  const vector = cost.map((sum, groups) => {
    if (sum === Infinity) return null;
    const numbers = new Array<number>(n).fill(0);
    let end = n;
    for (let group = groups; group > 0; group--) {
      const start = cuts[group]![end]!;
      for (let place = start; place < end; place++) numbers[order[place]!] = group;
      end = start;
    }
    return renumbered(numbers);
  });
  const lossBound =
    equalSize && together
      ? vector.map((v) => (v ? lossOfVector(units, v) : Infinity))
      : boundOfSingles(units);
  return { units, cost, vector, lossBound, exact: equalSize && together };
}

/** The least sum of costs of n sorted units cut into 0..n runs, and where each last run starts. */
function cutSorted(
  sorted: readonly Unit[],
  runCost: (members: readonly Unit[]) => number,
): { cost: number[]; cuts: Int32Array[] } {
  const n = sorted.length;
  const run: Float64Array[] = [];
  for (let start = 0; start < n; start++) {
    run.push(new Float64Array(n + 1));
    for (let end = start + 1; end <= n; end++) run[start]![end] = runCost(sorted.slice(start, end));
  }
  const best: Float64Array[] = [new Float64Array(n + 1).fill(Infinity)];
  best[0]![0] = 0;
  const cuts: Int32Array[] = [new Int32Array(n + 1)];
  for (let groups = 1; groups <= n; groups++) {
    const row = new Float64Array(n + 1).fill(Infinity);
    const cut = new Int32Array(n + 1);
    for (let end = groups; end <= n; end++)
      for (let start = groups - 1; start < end; start++) {
        const sum = best[groups - 1]![start]! + run[start]![end]!;
        if (sum < row[end]!) {
          row[end] = sum;
          cut[end] = start;
        }
      }
    best.push(row);
    cuts.push(cut);
  }
  return { cost: best.map((row) => row[n]!), cuts };
}

/** Were every unit divisible into its detectors, no grouping could lose less than this. */
function boundOfSingles(units: readonly Unit[]): number[] {
  const singles = units.flatMap((unit) =>
    Array.from(
      { length: unit.size },
      (): Unit => ({ ...unit, size: 1, importance: unit.importance / unit.size }),
    ),
  );
  singles.sort((a, b) => b.importance - a.importance);
  return cutSorted(singles, lossOf).cost.slice(0, units.length + 1);
}

/** Group numbers by first appearance, from 0. */
function renumbered(numbers: readonly number[]): number[] {
  const names = new Map<number, number>();
  return numbers.map((number) => {
    if (!names.has(number)) names.set(number, names.size);
    return names.get(number)!;
  });
}

/** The loss of a grouping that is given by the group number of every unit. */
export function lossOfVector(units: readonly Unit[], vector: readonly number[]): number {
  const groups = new Map<number, Unit[]>();
  vector.forEach((group, index) => {
    groups.set(group, [...(groups.get(group) ?? []), units[index]!]);
  });
  return [...groups.values()].reduce((sum, members) => sum + lossOf(members), 0);
}
