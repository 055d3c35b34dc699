import { mayStandTogether } from './cost.ts';
import type { Unit } from './units.ts';

/** What stands in one group whatever the grouping: a unit, or all units of a part that ask for one input. */
export type Item = {
  readonly units: readonly Unit[];
  readonly size: number;
  readonly importance: number;
  readonly places: number;
  readonly asked: string | null;
};

/**
 * Units that ask for one input become one item before anything is weighed, so that nothing can part them.
 * Those that ask for one input and may not stand together stay as they are: who gets it is told later.
 */
export function itemsOf(units: readonly Unit[], sharing: readonly ReadonlySet<string>[]): Item[] {
  const asking = new Map<string, Unit[]>();
  for (const unit of units)
    if (unit.asked !== null) asking.set(unit.asked, [...(asking.get(unit.asked) ?? []), unit]);
  const one = new Set(
    [...asking].filter(([, askers]) => mayStandTogether(askers, sharing)).map(([asked]) => asked),
  );
  return units.flatMap((unit) => {
    if (unit.asked === null || !one.has(unit.asked)) return [itemOf([unit])];
    const askers = asking.get(unit.asked)!;
    return askers[0] === unit ? [itemOf(askers)] : [];
  });
}

function itemOf(units: readonly Unit[]): Item {
  return {
    units,
    size: units.reduce((sum, { size }) => sum + size, 0),
    importance: units.reduce((sum, { importance }) => sum + importance, 0),
    places: units.reduce((bits, { places }) => bits | places, 0),
    asked: units[0]!.asked,
  };
}

/** Every unit of some items. */
export function unitsOf(items: readonly Item[]): Unit[] {
  return items.flatMap(({ units }) => units);
}

/** `[a][b]`: how many joins at the panel run between two items; on the diagonal, within one. */
export function joinsBetween(items: readonly Item[]): number[][] {
  const owner = new Map(
    items.flatMap(({ units }, index) =>
      units.map(({ zone, position }) => [`${zone} ${position}`, index] as const),
    ),
  );
  const joins = items.map(() => new Array<number>(items.length).fill(0));
  items.forEach(({ units }, a) => {
    for (const { zone, position } of units) {
      const b = owner.get(`${zone} ${position + 1}`);
      if (b === undefined) continue;
      joins[a]![b]! += 1;
      if (a !== b) joins[b]![a]! += 1;
    }
  });
  return joins;
}

/** Whether what may not share is only what asks for different inputs, each once. */
export function isUniform(items: readonly Item[], sharing: readonly ReadonlySet<string>[]): boolean {
  const asked = items.flatMap((item) => item.asked ?? []);
  if (new Set(asked).size < asked.length) return false;
  return mayStandTogether(
    unitsOf(items).map((unit) => ({ ...unit, asked: null })),
    sharing,
  );
}
