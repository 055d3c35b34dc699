import { lossBounds } from './bounds.ts';
import { LOSS, lossOf } from './cost.ts';
import { type Fewest, fewestGroups } from './fewest.ts';
import { type Item, isUniform, itemsOf } from './items.ts';
import { mergeDown } from './merge-down.ts';
import { polish } from './polish.ts';
import { guessStrands, weighStrands } from './strands.ts';
import type { Unit } from './units.ts';
import { WEIGH_ALL, weighAll } from './weigh-all.ts';

/**
 * A part of the site whose units may share inputs with each other and with nothing else. For every number of
 * groups: the least cost found, and the grouping that has it.
 */
export type PartCurve = {
  readonly items: readonly Item[];
  /** Index: number of groups; `Infinity` where that number is not possible. */
  readonly cost: readonly number[];
  /** No grouping with so many groups loses less; equals the loss where `exact`. */
  readonly lossBound: readonly number[];
  /** No grouping has fewer groups. */
  readonly fewestBound: number;
  readonly exact: boolean;
  /** Group number of every item, numbered by first appearance. */
  readonly vectorOf: (groups: number) => readonly number[];
  /** The same, made as good as it gets by small changes where not every way was weighed with its ties. */
  readonly finishedOf: (groups: number) => readonly number[];
};

/** What all parts of a site together may take to be weighed: about a tenth of a second. */
const STEPS_OF_SITE = 10_000_000;

/**
 * The least loss of one part for every number of groups, as far as can be weighed; beyond that a good grouping
 * with a bound on what could be better.
 *
 * @param share the part's share of what may be spent on the site, over 0 up to 1
 */
export function computePartCurve(
  units: readonly Unit[],
  sharing: readonly ReadonlySet<string>[],
  share: number,
): PartCurve {
  const items = itemsOf(units, sharing);
  if (items.length <= WEIGH_ALL) return weighedWhole(items, sharing);
  if (isUniform(items, sharing)) {
    const weights = items.map(({ size, importance, asked }) => ({ size, importance, asks: asked !== null }));
    const exact = weighStrands(weights, items.length, share * STEPS_OF_SITE);
    const found = exact ?? guessStrands(weights, items.length);
    if (found)
      return curveOf({
        items,
        sharing,
        loss: found.loss,
        lossBound: exact ? found.loss : lossBounds(weights, items.length),
        fewestBound: Math.max(1, items.filter(({ asked }) => asked !== null).length),
        exact: exact !== null,
        isUniform: true,
        vectorOf: found.vectorOf,
      });
  }
  return merged(items, sharing);
}

function weighedWhole(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): PartCurve {
  const { cost, vectorOf } = weighAll(items, sharing);
  return {
    items,
    cost,
    lossBound: cost.map((sum, groups) => (sum === Infinity ? sum : lossOfVector(items, vectorOf(groups)))),
    fewestBound: cost.findIndex((sum) => sum < Infinity),
    exact: true,
    vectorOf,
    finishedOf: vectorOf,
  };
}

/** Some of the items may not share, and they are too many to weigh every way. */
function merged(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): PartCurve {
  const fewest: Fewest = fewestGroups(items, sharing);
  const found = mergeDown(items, sharing, fewest);
  const weights = items.map(({ size, importance, asked }) => ({ size, importance, asks: asked !== null }));
  // Two that ask for one input and may not share it are two groups here; the bound lets them be one.
  const easier = weights.map((weight) => ({ ...weight, asks: false }));
  return curveOf({
    items,
    sharing,
    loss: found.map((one) => one?.loss ?? Infinity),
    lossBound: lossBounds(easier, items.length),
    fewestBound: fewest.bound,
    exact: false,
    isUniform: false,
    vectorOf: (groups) => {
      const numbers = new Map(
        found[groups]!.groups.flatMap((members, group) => members.map((item) => [item, group] as const)),
      );
      return items.map((item) => numbers.get(item)!);
    },
  });
}

type Found = {
  readonly items: readonly Item[];
  readonly sharing: readonly ReadonlySet<string>[];
  readonly loss: readonly number[];
  readonly lossBound: readonly number[];
  readonly fewestBound: number;
  readonly exact: boolean;
  readonly isUniform: boolean;
  readonly vectorOf: (groups: number) => readonly number[];
};

function curveOf({
  items,
  sharing,
  loss,
  lossBound,
  fewestBound,
  exact,
  isUniform,
  vectorOf,
}: Found): PartCurve {
  const known = new Map<number, readonly number[]>();
  const numbered = (groups: number) => {
    const vector = known.get(groups) ?? renumbered(vectorOf(groups));
    known.set(groups, vector);
    return vector;
  };
  return {
    items,
    cost: loss.map((sum) => sum * LOSS),
    lossBound,
    fewestBound,
    exact,
    vectorOf: numbered,
    finishedOf: (groups) => renumbered(polish(items, numbered(groups), sharing, isUniform)),
  };
}

/** Group numbers by first appearance, from 0. */
function renumbered(numbers: readonly number[]): number[] {
  const names = new Map<number, number>();
  return numbers.map((number) => {
    if (!names.has(number)) names.set(number, names.size);
    return names.get(number)!;
  });
}

/** The loss of a grouping that is given by the group number of every item. */
export function lossOfVector(items: readonly Item[], vector: readonly number[]): number {
  const groups: Item[][] = [];
  vector.forEach((group, index) => {
    groups[group] ??= [];
    groups[group].push(items[index]!);
  });
  return groups.reduce((sum, members) => sum + lossOf(members), 0);
}
