import { awgConductor, type Conductor, cableLoopOhms } from '../../electrical/conductor.ts';
import type { Interval } from '../../electrical/interval.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { cableMetres } from '../../site/worth.ts';
import { listed, volts } from '../findings/words.ts';
import type { Finding } from '../plan.ts';
import { cablesToPanel, supplyPairOhms } from './cable-ohms.ts';
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
 * doubt about lengths: a second run beside its longest cable, a thicker one in its place, a thicker one all the
 * way, else a supply near it.
 */
export function leastMend(survey: Survey, feed: BoardFeed, detector: PoweredDetector): Mend {
  const { minimumVolts } = detector.supply;
  const lowest = Math.min(sourceVolts(feed.board, 'mains'), sourceVolts(feed.board, 'batteryEnd'));
  if (lowest < minimumVolts)
    return {
      says: `No cable mends this, for ${feed.board.id} itself falls to ${volts(lowest)}: use a detector that works from there, or a board whose supply stays higher.`,
      figures: { remedy: 'detector-or-board', lowestSourceVolts: lowest },
    };
  for (const { says, figures, pairs } of waysToMend(survey, detector)) {
    const mendedVolts = voltsWith(survey, feed, detector, pairs);
    if (mendedVolts >= minimumVolts)
      return {
        says: `${says}: that brings ${volts(mendedVolts)} at worst.`,
        figures: { ...figures, mendedVolts },
      };
  }
  return {
    says: "Feed it from a fused 12 V supply with a battery of its own near it, its negative joined to the board's.",
    figures: { remedy: 'own-supply' },
  };
}

/**
 * One change for several detectors of one run that are all short, by detector: the least for the one that wants
 * most, if it brings every one of them to its minimum. Null where none does.
 */
export function mendOfRun(
  survey: Survey,
  feed: BoardFeed,
  short: readonly PoweredDetector[],
): ReadonlyMap<string, Mend> | null {
  const unchanged = short.map((one) => voltsWith(survey, feed, one, new Map()));
  const lacking = short.map(({ supply }, at) => supply.minimumVolts - unchanged[at]!);
  const neediest = short[lacking.indexOf(Math.max(...lacking))]!;
  for (const { says, figures, pairs } of waysToMend(survey, neediest)) {
    const mended = short.map((one) => voltsWith(survey, feed, one, pairs));
    if (short.some(({ supply }, at) => mended[at]! < supply.minimumVolts)) continue;
    const together = `${says}: that mends ${listed(short.map(({ id }) => id))} together.`;
    return new Map(
      short.map(({ id }, at) => [id, { says: together, figures: { ...figures, mendedVolts: mended[at]! } }]),
    );
  }
  return null;
}

/** Cables by id with the supply pair they would then have. */
type Pairs = ReadonlyMap<string, Interval>;
type Way = Mend & { readonly pairs: Pairs };

/** From the least work to the most. */
function waysToMend(survey: Survey, detector: PoweredDetector): Way[] {
  const path = cablesToPanel(survey, detector.cable);
  const [widest] = [...path].sort(
    (a, b) => supplyPairOhms(b, survey).nominal - supplyPairOhms(a, survey).nominal,
  );
  if (!widest) return [];
  const second: Way = {
    says: hasSparePair(widest)
      ? `Join two spare cores of ${widest.id} to its supply pair`
      : `Run a second supply pair beside ${widest.id}`,
    figures: { remedy: 'second-run', cable: widest.id },
    pairs: new Map([[widest.id, halved(supplyPairOhms(widest, survey))]]),
  };
  return [second, ...thickerRuns(survey, [widest]), ...(path.length > 1 ? thickerRuns(survey, path) : [])];
}

function thickerRuns(survey: Survey, cables: readonly Cable[]): Way[] {
  const thinnest = Math.min(...cables.map(({ conductor }) => conductor.areaSquareMillimetres));
  const names = listed(cables.map(({ id }) => id));
  return SIZES[cables[0]!.conductor.system]
    .filter(({ areaSquareMillimetres }) => areaSquareMillimetres > thinnest)
    .map((conductor) => ({
      says: `Replace ${names} by ${conductor.name}`,
      figures: { remedy: 'conductor', cable: names, conductor: conductor.name },
      pairs: new Map(
        cables.map((cable) => [
          cable.id,
          lesser(
            cableLoopOhms(conductor, cableMetres(cable), survey.conditions.cableCelsius),
            supplyPairOhms(cable, survey),
          ),
        ]),
      ),
    }));
}

/** A cable that is thicker already stays. */
function lesser(a: Interval, b: Interval): Interval {
  return a.nominal < b.nominal ? a : b;
}

function hasSparePair({ cores }: Cable): boolean {
  return cores.filter(({ use }) => use === 'spare').length >= 2;
}

function halved({ min, nominal, max }: Interval): Interval {
  return { min: min / 2, nominal: nominal / 2, max: max / 2 };
}

/** The least that arrives with some cables' supply pairs replaced. */
function voltsWith(survey: Survey, feed: BoardFeed, detector: PoweredDetector, pairs: Pairs): number {
  const root = rootCable(survey, detector.cable);
  const beside = {
    ...feed,
    detectors: feed.detectors.filter(({ cable }) => rootCable(survey, cable) === root),
  };
  const ohmsOf = (cable: Cable) => pairs.get(cable.id) ?? supplyPairOhms(cable, survey);
  const least = (supplyCase: 'mains' | 'batteryEnd') =>
    computeDeviceVolts(survey, feed.board.adapter.lead === null ? beside : feed, supplyCase, ohmsOf).get(
      detector.id,
    )!.min;
  return Math.min(least('mains'), least('batteryEnd'));
}
