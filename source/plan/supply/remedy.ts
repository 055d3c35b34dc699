import { awgConductor, type Conductor, cableLoopOhms } from '../../electrical/conductor.ts';
import type { Interval } from '../../electrical/interval.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { volts } from '../findings/words.ts';
import type { Finding } from '../plan.ts';
import { cableMetres, cablesToPanel, supplyPairOhms } from './cable-ohms.ts';
import { computeDeviceVolts, sourceVolts } from './device-volts.ts';
import { type BoardFeed, type PoweredDetector, rootCable } from './feeds.ts';

/** What mends too low a voltage, and the figures behind it. */
export type Mend = { readonly says: string; readonly figures: Finding['figures'] };

const metric = (area: number): Conductor => ({
  name: `${area} mm2`,
  areaSquareMillimetres: area,
  system: 'metric',
});
/** What a wholesaler has on the drum, thin to thick. */
const SIZES = {
  awg: [20, 18, 16, 14].map(awgConductor),
  metric: [0.34, 0.5, 0.75, 1, 1.5].map(metric),
} as const;

/**
 * The least change that brings a detector to its minimum on mains and at the end of the battery, whatever the
 * doubt about lengths: a second run beside its longest cable, else a thicker one, else a supply near it.
 */
export function leastMend(survey: Survey, feed: BoardFeed, detector: PoweredDetector): Mend {
  const { minimumVolts } = detector.supply;
  const lowest = Math.min(sourceVolts(feed.board, 'mains'), sourceVolts(feed.board, 'batteryEnd'));
  if (lowest < minimumVolts)
    return {
      says: `No cable mends this, for ${feed.board.id} itself falls to ${volts(lowest)}: use a detector that works from there, or a board whose supply stays higher.`,
      figures: { remedy: 'detector-or-board', lowestSourceVolts: lowest },
    };
  const [widest] = cablesToPanel(survey, detector.cable).sort(
    (a, b) => supplyPairOhms(b, survey).nominal - supplyPairOhms(a, survey).nominal,
  );
  if (widest) {
    const second = voltsWith(survey, feed, detector, widest, halved(supplyPairOhms(widest, survey)));
    if (second >= minimumVolts)
      return {
        says: `${hasSparePair(widest) ? `Join two spare cores of ${widest.id} to its supply pair` : `Run a second supply pair beside ${widest.id}`}: that brings ${volts(second)} at worst.`,
        figures: { remedy: 'second-run', cable: widest.id, mendedVolts: second },
      };
    for (const conductor of SIZES[widest.conductor.system]) {
      if (conductor.areaSquareMillimetres <= widest.conductor.areaSquareMillimetres) continue;
      const pair = cableLoopOhms(conductor, cableMetres(widest), survey.conditions.cableCelsius);
      const mended = voltsWith(survey, feed, detector, widest, pair);
      if (mended >= minimumVolts)
        return {
          says: `Replace ${widest.id} by ${conductor.name}: that brings ${volts(mended)} at worst.`,
          figures: { remedy: 'conductor', cable: widest.id, conductor: conductor.name, mendedVolts: mended },
        };
    }
  }
  return {
    says: "Feed it from a fused 12 V supply with a battery of its own near it, its negative joined to the board's.",
    figures: { remedy: 'own-supply' },
  };
}

function hasSparePair({ cores }: Cable): boolean {
  return cores.filter(({ use }) => use === 'spare').length >= 2;
}

function halved({ min, nominal, max }: Interval): Interval {
  return { min: min / 2, nominal: nominal / 2, max: max / 2 };
}

/** The least that arrives with one cable's supply pair replaced. */
function voltsWith(
  survey: Survey,
  feed: BoardFeed,
  detector: PoweredDetector,
  changed: Cable,
  pair: Interval,
): number {
  const root = rootCable(survey, detector.cable);
  const beside = {
    ...feed,
    detectors: feed.detectors.filter(({ cable }) => rootCable(survey, cable) === root),
  };
  const ohmsOf = (cable: Cable) => (cable.id === changed.id ? pair : supplyPairOhms(cable, survey));
  const least = (supplyCase: 'mains' | 'batteryEnd') =>
    computeDeviceVolts(survey, feed.board.adapter.lead === null ? beside : feed, supplyCase, ohmsOf).get(
      detector.id,
    )!.min;
  return Math.min(least('mains'), least('batteryEnd'));
}
