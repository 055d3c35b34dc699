import { addIntervals, exactly, type Interval, subtractIntervals } from '../../electrical/interval.ts';
import { type SupplyBranch, solveSupplyTree } from '../../electrical/supply.ts';
import type { Board } from '../../site/board.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import type { CoreUse } from '../../wiring/wiring.ts';
import { cablesToPanel } from './cable-ohms.ts';
import { type CopperOf, copperOf, strandOf } from './copper.ts';
import type { BoardFeed } from './feeds.ts';
import { leadDropVolts } from './lead.ts';
import { type SupplyCase, type SupplyLoad, supplyLoads } from './loads.ts';

/** Volts at the aux terminals before any cable, in each case; without a battery there is no battery end. */
export function sourceVolts({ aux, battery }: Board, supplyCase: SupplyCase): number {
  const lowestOnMains = aux.mainsVolts * (1 - aux.mainsTolerance);
  switch (supplyCase) {
    case 'mains':
      return lowestOnMains;
    case 'batteryEnd':
      return battery ? battery.cutOffVolts - aux.dropFromBatteryVolts : lowestOnMains;
    case 'highest':
      return Math.max(
        aux.mainsVolts * (1 + aux.mainsTolerance),
        battery ? battery.floatVolts - aux.dropFromBatteryVolts : 0,
      );
    case 'now':
      return aux.mainsVolts;
  }
}

/**
 * Volts at every detector and sounder that a board feeds, by id: what the board gives, less an old run's drop where
 * that feeds the board, less the way out and the way back to it. Each core is reckoned by what flows in it, so that
 * devices that share one wire and not the other come out right.
 */
export function computeSupplyVolts(
  survey: Survey,
  feed: BoardFeed,
  supplyCase: SupplyCase,
  copper: CopperOf = copperOf(survey),
): Map<string, Interval> {
  const loads = supplyLoads(survey, feed);
  const source = subtractIntervals(
    exactly(sourceVolts(feed.board, supplyCase)),
    leadDropVolts(survey, feed, supplyCase),
  );
  const along = (side: 0 | 1) => {
    const branches = branchesOf(survey, loads, side, supplyCase, copper);
    return solveSupplyTree({ source: exactly(0), branches });
  };
  const [out, back] = [along(0), along(1)];
  return new Map(loads.map(({ id }) => [id, addIntervals(source, out.get(id)!, back.get(id)!)]));
}

type Growing = {
  readonly id: string;
  readonly loopOhms: Interval;
  readonly loads: { readonly id: string; readonly amps: Interval }[];
  readonly branches: Growing[];
};

/** One side of the supply as a tree of cores from the panel outwards, with the loads where they sit. */
function branchesOf(
  survey: Survey,
  loads: readonly SupplyLoad[],
  side: 0 | 1,
  supplyCase: SupplyCase,
  copper: CopperOf,
): readonly SupplyBranch[] {
  const known = new Map<string, Growing>();
  const roots: Growing[] = [];
  for (const { id, cable: at, uses, amps } of loads) {
    let path = '';
    let level = roots;
    let last: Growing | null = null;
    for (const cable of cablesToPanel(survey, at).reverse()) {
      const { key, cores } = strand(cable, id, uses[side]);
      path = `${path}>${uses[side]}:${key}`;
      let here = known.get(path);
      if (here === undefined) {
        here = { id: path, loopOhms: copper(cable, cores), loads: [], branches: [] };
        known.set(path, here);
        level.push(here);
      }
      level = here.branches;
      last = here;
    }
    // A device whose cable nobody has listed sits at the board.
    if (last === null) {
      last = { id: `at:${id}`, loopOhms: exactly(0), loads: [], branches: [] };
      roots.push(last);
    }
    last.loads.push({ id, amps: amps[supplyCase] });
  }
  return roots;

  function strand(cable: Cable, load: string, use: CoreUse) {
    return strandOf(cable, load.split('/')[0]!, use);
  }
}
