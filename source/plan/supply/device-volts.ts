import { exactly, type Interval } from '../../electrical/interval.ts';
import { type SupplyBranch, solveSupplyTree } from '../../electrical/supply.ts';
import type { Board } from '../../site/board.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { pairOhms } from '../../site/worth.ts';
import { cableTree, supplyPairOhms } from './cable-ohms.ts';
import { type BoardFeed, isAssumedCurrent, type PoweredDetector, rootCable } from './feeds.ts';

/** The four cases in which a device's voltage is computed. */
type SupplyCase = 'mains' | 'batteryEnd' | 'highest' | 'now';

/** Volts at the aux terminals before any cable, in each case; without a battery there is no battery end. */
export function sourceVolts(board: Board, supplyCase: SupplyCase): number {
  const { aux, battery, adapter } = board;
  const lowestOnMains = aux.mainsVolts * (1 - aux.mainsTolerance);
  switch (supplyCase) {
    case 'mains':
      return lowestOnMains;
    case 'batteryEnd':
      return battery ? battery.cutOffVolts - aux.dropFromBatteryVolts : lowestOnMains;
    case 'highest':
      return battery ? battery.floatVolts : adapter.volts * (1 + adapter.tolerance);
    case 'now':
      return aux.mainsVolts;
  }
}

/** Lowest voltages come with the greater current of every device, highest and today's with standby. */
function deviceAmps(survey: Survey, detector: PoweredDetector, supplyCase: SupplyCase): Interval {
  const { standbyAmps, alarmAmps } = detector.supply;
  const rests = supplyCase === 'highest' || supplyCase === 'now';
  const amps = rests ? standbyAmps : Math.max(standbyAmps, alarmAmps);
  // What is only assumed may be as little as nothing: a shortfall must not be sure because of it.
  return { min: isAssumedCurrent(survey, detector) ? 0 : amps, nominal: amps, max: amps };
}

/**
 * Volts at every detector a board feeds: the tree of cables with the detectors where they sit, and where an
 * old run feeds the board, that run as the root of it.
 */
export function computeDeviceVolts(
  survey: Survey,
  feed: BoardFeed,
  supplyCase: SupplyCase,
  ohmsOf: (cable: Cable) => Interval = (cable) => supplyPairOhms(cable, survey),
): Map<string, Interval> {
  const { board } = feed;
  const { byId, childrenOf } = cableTree(survey);
  const loads = new Map<string, PoweredDetector[]>();
  for (const detector of feed.detectors)
    loads.set(detector.cable, [...(loads.get(detector.cable) ?? []), detector]);

  const branchOf = (cable: Cable, above: ReadonlySet<string>): SupplyBranch | null => {
    if (above.has(cable.id)) return null;
    const path = new Set([...above, cable.id]);
    const branches = childrenOf(cable.id)
      .map((child) => branchOf(child, path))
      .filter((b) => b !== null);
    const mine = (loads.get(cable.id) ?? []).map((d) => ({
      id: d.id,
      amps: deviceAmps(survey, d, supplyCase),
    }));
    if (mine.length === 0 && branches.length === 0) return null;
    return { id: cable.id, loopOhms: ohmsOf(cable), loads: mine, branches };
  };
  const branches = rootsOf(survey, feed)
    .map((cable) => branchOf(cable, new Set()))
    .filter((b) => b !== null);
  const lead = byId.get(board.adapter.lead ?? '');
  const own = { id: `board:${board.id}`, amps: exactly(board.own.standbyAmps) };
  // On battery no current comes through the lead: it feeds the board from the mains side only.
  const withLead = lead && supplyCase !== 'batteryEnd';
  const tree = withLead
    ? [{ id: lead.id, loopOhms: pairOhms(lead, survey), loads: [own], branches }]
    : branches;
  return solveSupplyTree({ source: exactly(sourceVolts(board, supplyCase)), branches: tree });
}

/** The cables at the panel through which a board feeds its detectors. */
function rootsOf(survey: Survey, { detectors }: BoardFeed): Cable[] {
  const { byId } = cableTree(survey);
  const roots = new Set(detectors.map(({ cable }) => byId.get(rootCable(survey, cable))));
  return [...roots].filter((cable) => cable !== undefined);
}
