import type { Unit } from '../../source/plan/grouping/units.ts';
import type { DrawnSite } from './grouping-drawn.ts';

// The objective as the specification words it, written down a second time: nothing of the planner is used.
export type Score = readonly [
  asking: number,
  loss: number,
  mixed: number,
  parted: number,
  ...vector: number[],
];

export function lossOfGroup(group: readonly Unit[]): number {
  const size = group.reduce((sum, unit) => sum + unit.size, 0);
  return group.reduce((sum, unit) => sum + unit.importance * (size - 1), 0);
}

export function isAllowed(group: readonly Unit[], mayShare: DrawnSite['mayShare']): boolean {
  const [first] = group;
  const asked = new Set(group.map((unit) => unit.asked).filter((one) => one !== null));
  if (asked.size > 1 || group.some((unit) => unit.company !== first!.company)) return false;
  const zones = new Set(group.map((unit) => unit.zone));
  if (zones.size === 1) return true;
  // In a row each contact needs a return of its own.
  const returns = group.flatMap((unit) => unit.returns);
  if (first!.company.startsWith('normally-closed') && new Set(returns).size < returns.length) return false;
  return mayShare.some((set) => [...zones].every((zone) => set.includes(zone)));
}

function mixes(group: readonly Unit[]): boolean {
  const places = group.reduce((bits, unit) => bits | unit.places, 0);
  return [1, 2, 4, 8].filter((bit) => places & bit).length > 1;
}

function partedIn(units: readonly Unit[], vector: readonly number[]): number {
  let parted = 0;
  units.forEach((unit, at) => {
    const next = units.findIndex((other) => other.zone === unit.zone && other.position === unit.position + 1);
    if (next >= 0 && vector[next] !== vector[at]) parted += 1;
  });
  return parted;
}

function groupsIn(units: readonly Unit[], vector: readonly number[]): Unit[][] {
  const groups: Unit[][] = [];
  vector.forEach((group, at) => {
    groups[group] = [...(groups[group] ?? []), units[at]!];
  });
  return groups;
}

export function score(units: readonly Unit[], vector: readonly number[]): Score {
  const groups = groupsIn(units, vector);
  const loss = groups.reduce((sum, group) => sum + lossOfGroup(group), 0);
  // Who asks for one input gets it together, wherever they may share at all.
  const asking = groups.filter((group) => group.some((unit) => unit.asked !== null)).length;
  return [asking, loss, groups.filter(mixes).length, partedIn(units, vector), ...vector];
}

function sortsBefore(a: Score, b: Score): boolean {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at >= 0 && a[at]! < b[at]!;
}

/** Every way to share inputs, one after another: restricted growth strings. */
export function bestByWeighingAll({ units, mayShare, inputs }: DrawnSite): Score | null {
  let best: Score | null = null;
  const vector: number[] = [];
  const grow = (used: number) => {
    if (vector.length === units.length) {
      const groups = groupsIn(units, vector);
      if (groups.every((group) => isAllowed(group, mayShare))) {
        const mine = score(units, vector);
        if (best === null || sortsBefore(mine, best)) best = mine;
      }
      return;
    }
    for (let group = 0; group <= used && group < inputs; group++) {
      vector.push(group);
      if (isAllowed(groupsIn(units, vector)[group]!, mayShare)) grow(Math.max(used, group + 1));
      vector.pop();
    }
  };
  grow(0);
  return best;
}

export function vectorOf(
  units: readonly Unit[],
  groups: readonly { readonly units: readonly Unit[] }[],
): number[] {
  return units.map((unit) => groups.findIndex((group) => group.units.includes(unit)));
}
