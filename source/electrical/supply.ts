import { exactly, type Interval } from './interval.ts';

/** One cable of a supply tree: what hangs at its far end, and the cables that go on from there. */
export type SupplyBranch = {
  readonly id: string;
  /** Out and back, at the cable's temperature. */
  readonly loopOhms: Interval;
  readonly loads: readonly { readonly id: string; readonly amps: Interval }[];
  readonly branches: readonly SupplyBranch[];
};

/**
 * Volts at each load of a supply tree, by load id: the source less, for every cable above the load, its
 * resistance times all the current that still has to pass it (the point-to-point method). Loads draw a
 * constant current. A figure below zero means that the tree cannot carry its loads.
 *
 * @returns least, nominal and most; least from the lowest source, longest cables and largest currents
 * @example solveSupplyTree({source: exactly(24), branches: [{id: 'run', loopOhms: exactly(0.998), loads: [{id: 'bell', amps: exactly(4)}], branches: []}]}).get('bell') // => {min: 20.008, nominal: 20.008, max: 20.008}
 */
export function solveSupplyTree(tree: {
  readonly source: Interval;
  readonly branches: readonly SupplyBranch[];
}): Map<string, Interval> {
  const volts = new Map<string, Interval>();
  const currents = new Map<SupplyBranch, Interval>();
  for (const branch of tree.branches) gatherCurrents(branch, currents);
  for (const branch of tree.branches) spreadVolts(branch, tree.source, currents, volts);
  return volts;
}

function gatherCurrents(branch: SupplyBranch, currents: Map<SupplyBranch, Interval>): Interval {
  let { min, nominal, max } = exactly(0);
  const add = (amps: Interval) => {
    min += amps.min;
    nominal += amps.nominal;
    max += amps.max;
  };
  for (const load of branch.loads) add(load.amps);
  for (const next of branch.branches) add(gatherCurrents(next, currents));
  const amps = { min, nominal, max };
  currents.set(branch, amps);
  return amps;
}

function spreadVolts(
  branch: SupplyBranch,
  source: Interval,
  currents: Map<SupplyBranch, Interval>,
  volts: Map<string, Interval>,
): void {
  const amps = currents.get(branch) ?? exactly(0);
  const { loopOhms } = branch;
  const here = {
    min: source.min - loopOhms.max * amps.max,
    nominal: source.nominal - loopOhms.nominal * amps.nominal,
    max: source.max - loopOhms.min * amps.min,
  };
  for (const load of branch.loads) volts.set(load.id, here);
  for (const next of branch.branches) spreadVolts(next, here, currents, volts);
}
