import { mayStandTogether } from './cost.ts';
import { type Item, unitsOf } from './items.ts';

/** Ways weighed for each number of groups before the search is given up. */
const MOST_TRIES = 300_000;

/** The fewest groups that hold some items. */
export type Fewest = {
  readonly groups: readonly (readonly Item[])[];
  /** No grouping does with fewer; the number of groups where that is proved. */
  readonly bound: number;
};

/**
 * The fewest groups that some items can stand in, whatever is lost by it. What stands freely in its zone is
 * one lump here, for all of it can go wherever the first of it goes; the rest is weighed one by one.
 */
export function fewestGroups(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): Fewest {
  const lumps = inHardestOrder(lumpsOf(items), sharing);
  const { clashes } = lumps;
  let best = fill(lumps.order, lumps.order.length, sharing, Number.POSITIVE_INFINITY);
  if (best === 'given-up' || best === null) throw new Error('a group for each is always a way');
  const bound = apartAtLeast(clashes);
  while (best.length > bound) {
    const fewer = fill(lumps.order, best.length - 1, sharing, MOST_TRIES);
    if (fewer === null) return { groups: best.map(unlumped), bound: best.length };
    if (fewer === 'given-up') return { groups: best.map(unlumped), bound };
    best = fewer;
  }
  return { groups: best.map(unlumped), bound: best.length };
}

type Lump = readonly Item[];

function unlumped(group: readonly Lump[]): Item[] {
  return group.flat();
}

function lumpsOf(items: readonly Item[]): Lump[] {
  const lumps = new Map<string, Item[]>();
  items.forEach((item, index) => {
    const [unit] = item.units;
    const needsReturn = unit!.returns.length > 0 && !unit!.company.startsWith('normally-open');
    const isFree = item.asked === null && item.units.length === 1 && !needsReturn;
    const key = isFree ? `zone ${unit!.zone}` : String(index);
    lumps.set(key, [...(lumps.get(key) ?? []), item]);
  });
  return [...lumps.values()];
}

/** Those that clash with most come first, so that a wrong way is seen early. */
function inHardestOrder(lumps: readonly Lump[], sharing: readonly ReadonlySet<string>[]) {
  const clash = (a: Lump, b: Lump) => !mayStandTogether(unitsOf([...a, ...b]), sharing);
  const degree = new Map(lumps.map((lump) => [lump, lumps.filter((other) => clash(lump, other)).length]));
  const order = [...lumps].sort((a, b) => degree.get(b)! - degree.get(a)!);
  return { order, clashes: order.map((a) => order.map((b) => a !== b && clash(a, b))) };
}

/** As many lumps as all clash with each other need a group each. */
function apartAtLeast(clashes: readonly (readonly boolean[])[]): number {
  let most = 1;
  for (let start = 0; start < clashes.length; start++) {
    const apart = [start];
    for (let next = 0; next < clashes.length; next++)
      if (apart.every((one) => one !== next && clashes[one]![next])) apart.push(next);
    most = Math.max(most, apart.length);
  }
  return most;
}

/** Depth first, each lump into a group that takes it or a new one; `null` where no way has so few. */
function fill(
  lumps: readonly Lump[],
  most: number,
  sharing: readonly ReadonlySet<string>[],
  tries: number,
): Lump[][] | null | 'given-up' {
  const groups: Lump[][] = [];
  let left = tries;
  const put = (at: number): boolean => {
    const lump = lumps[at];
    if (!lump) return true;
    for (let group = 0; group <= Math.min(groups.length, most - 1); group++) {
      if (--left < 0) return false;
      const isNew = group === groups.length;
      if (isNew) groups.push([lump]);
      else if (mayStandTogether(unitsOf([...groups[group]!.flat(), ...lump]), sharing))
        groups[group]!.push(lump);
      else continue;
      if (put(at + 1)) return true;
      if (isNew) groups.pop();
      else groups[group]!.pop();
      if (left < 0) return false;
    }
    return false;
  };
  if (put(0)) return groups;
  return left < 0 ? 'given-up' : null;
}
