import { computePartCurve, lossOfVector, type PartCurve } from './part-curve.ts';
import type { Unit } from './units.ts';

/** Units that share one input. */
export type Group = { readonly units: readonly Unit[] };

export type GroupingResult = {
  /** In survey order of their first unit. */
  readonly groups: readonly Group[];
  readonly loss: number;
  /** No grouping with so many inputs loses less. Equals `loss` where `optimal`. */
  readonly bound: number;
  readonly optimal: boolean;
  /** Fewest inputs that were found to do, with every zone as whole as it may be. */
  readonly fewestInputs: number;
  /** No grouping does with fewer inputs; equals `fewestInputs` but where too much would have to be weighed. */
  readonly fewestBound: number;
};

/**
 * Which detectors share an input, so that the least is lost with at most `inputs` groups. Where even the
 * fewest groups are more than there are inputs, the fewest groups are given and `fewestInputs` says so.
 *
 * For each part of the site that keeps to itself the least loss for every number of groups, and over the
 * parts a division of the inputs. Where a part is too large to weigh every way, the result is called optimal
 * only if it reaches the bound. Held against an independent integer programme in the tests.
 */
export function computeGrouping(
  units: readonly Unit[],
  mayShare: readonly (readonly string[])[],
  inputs: number,
): GroupingResult {
  const sharing = mayShare.map((zones) => new Set(zones));
  const curves = partsOf(units, mayShare).map((part) =>
    computePartCurve(part, sharing, part.length / units.length),
  );
  const fewest = curves.map((curve) => curve.cost.findIndex((cost) => cost < Infinity));
  const fewestInputs = fewest.reduce((sum, groups) => sum + groups, 0);
  const fewestBound = curves.reduce((sum, curve) => sum + curve.fewestBound, 0);
  const counts = fewestInputs >= inputs ? fewest : divideInputs(curves, inputs);
  const order = new Map(units.map((unit, index) => [unit, index]));
  const byOrder = (a: Unit, b: Unit) => order.get(a)! - order.get(b)!;
  const parts = curves.map((curve, part) => ({ curve, vector: curve.finishedOf(counts[part]!) }));
  const groups = parts
    .flatMap(({ curve, vector }) => groupsOf(curve, vector, byOrder))
    .sort((a, b) => byOrder(a.units[0]!, b.units[0]!));
  const loss = parts.reduce((sum, { curve, vector }) => sum + lossOfVector(curve.items, vector), 0);
  const bound = Math.min(loss, leastBound(curves, Math.max(inputs, fewestInputs)));
  return { groups, loss, bound, optimal: bound === loss, fewestInputs, fewestBound };
}

/** Units whose company and zones let them share at all, in order of first appearance. */
function partsOf(units: readonly Unit[], mayShare: readonly (readonly string[])[]): Unit[][] {
  const head = new Map<string, string>();
  const headOf = (zone: string): string => (head.has(zone) ? headOf(head.get(zone)!) : zone);
  for (const set of mayShare)
    for (const zone of set) if (headOf(zone) !== headOf(set[0]!)) head.set(headOf(zone), headOf(set[0]!));
  const parts = new Map<string, Unit[]>();
  for (const unit of units) {
    const key = `${headOf(unit.zone)} ${unit.company}`;
    const part = parts.get(key);
    if (part) part.push(unit);
    else parts.set(key, [unit]);
  }
  return [...parts.values()];
}

/** How many groups each part gets; among equal costs the vector of group numbers that sorts first. */
function divideInputs(curves: readonly PartCurve[], inputs: number): number[] {
  const after = suffixCosts(
    curves.map((curve) => curve.cost),
    inputs,
  );
  let left = inputs;
  return curves.map((curve, part) => {
    let chosen = -1;
    let least = Infinity;
    for (let groups = 1; groups < curve.cost.length && groups <= left; groups++) {
      const sum = curve.cost[groups]! + after[part + 1]![left - groups]!;
      const better = sum < least || (sum === least && sum < Infinity && sortsFirst(curve, groups, chosen));
      if (better) {
        least = sum;
        chosen = groups;
      }
    }
    left -= chosen;
    return chosen;
  });
}

function sortsFirst(curve: PartCurve, groups: number, than: number): boolean {
  const a = curve.vectorOf(groups);
  const b = curve.vectorOf(than);
  const at = a.findIndex((number, index) => number !== b[index]);
  return at >= 0 && a[at]! < b[at]!;
}

/** `[part][left]`: least cost of the parts from `part` on with at most `left` groups. */
function suffixCosts(costs: readonly (readonly number[])[], inputs: number): Float64Array[] {
  const after: Float64Array[] = [new Float64Array(inputs + 1)];
  for (let part = costs.length - 1; part >= 0; part--) {
    const cost = costs[part]!;
    const next = after[0]!;
    const row = new Float64Array(inputs + 1).fill(Infinity);
    for (let left = 1; left <= inputs; left++) {
      const most = Math.min(left, cost.length - 1);
      for (let groups = 1; groups <= most; groups++) {
        const sum = cost[groups]! + next[left - groups]!;
        if (sum < row[left]!) row[left] = sum;
      }
    }
    after.unshift(row);
  }
  return after;
}

function leastBound(curves: readonly PartCurve[], inputs: number): number {
  return suffixCosts(
    curves.map((curve) => curve.lossBound),
    inputs,
  )[0]![inputs]!;
}

function groupsOf(
  { items }: PartCurve,
  vector: readonly number[],
  byOrder: (a: Unit, b: Unit) => number,
): Group[] {
  const groups: Unit[][] = [];
  vector.forEach((group, index) => {
    groups[group] = [...(groups[group] ?? []), ...items[index]!.units];
  });
  return groups.map((members) => ({ units: members.sort(byOrder) }));
}
