import { awgConductor, type Conductor, cableLoopOhms } from '../../electrical/conductor.ts';
import { isUnder } from '../../electrical/limit.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { cableMetres } from '../../site/worth.ts';
import { leastVolts, listed, volts } from '../findings/words.ts';
import type { Finding } from '../plan.ts';
import { cablesToPanel } from './cable-ohms.ts';
import { type CopperOf, copperOf, scaled, supplyPairOhms } from './copper.ts';
import { type BoardFeed, rootCable } from './feeds.ts';
import type { SupplyLoad } from './loads.ts';
import { computeSupplyVolts, sourceVolts } from './supply-volts.ts';

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
 * The least change that brings a detector or sounder to its minimum on mains and at the end of the battery, whatever
 * the doubt about lengths: a second run beside its longest cable, a thicker one in its place, a thicker one all the
 * way, else a supply near it.
 */
export function leastMend(survey: Survey, feed: BoardFeed, load: SupplyLoad): Mend {
  const lowest = Math.min(sourceVolts(feed.board, 'mains'), sourceVolts(feed.board, 'batteryEnd'));
  if (isUnder(lowest, load.minimumVolts))
    return {
      says: `No cable mends this, for ${feed.board.id} itself falls to ${volts(lowest)}: use one that works from there, or a board whose supply stays higher.`,
      figures: { remedy: 'detector-or-board', lowestSourceVolts: lowest },
    };
  for (const { says, figures, copper } of waysToMend(survey, load)) {
    const mendedVolts = voltsWith(survey, feed, load, copper);
    if (!isUnder(mendedVolts, load.minimumVolts))
      return {
        says: `${says}: that brings ${leastVolts(mendedVolts)} at worst.`,
        figures: { ...figures, mendedVolts },
      };
  }
  return {
    says: "Feed it from a fused 12 V supply with a battery of its own near it, its negative joined to the board's.",
    figures: { remedy: 'own-supply' },
  };
}

/**
 * One change for several that hang on one run and are all short, by id: the least for the one that wants most, if it
 * brings every one of them to its minimum. Null where none does.
 */
export function mendOfRun(
  survey: Survey,
  feed: BoardFeed,
  short: readonly SupplyLoad[],
): ReadonlyMap<string, Mend> | null {
  const asItLies = copperOf(survey);
  const lacking = short.map((one) => one.minimumVolts - voltsWith(survey, feed, one, asItLies));
  const neediest = short[lacking.indexOf(Math.max(...lacking))]!;
  for (const { says, figures, copper } of waysToMend(survey, neediest)) {
    const mended = short.map((one) => voltsWith(survey, feed, one, copper));
    if (short.some(({ minimumVolts }, at) => isUnder(mended[at]!, minimumVolts))) continue;
    const together = `${says}: that mends ${listed(short.map(({ id }) => id))} together.`;
    return new Map(
      short.map(({ id }, at) => [id, { says: together, figures: { ...figures, mendedVolts: mended[at]! } }]),
    );
  }
  return null;
}

type Way = Mend & { readonly copper: CopperOf };

/** From the least work to the most. */
function waysToMend(survey: Survey, { id, cable, uses }: SupplyLoad): Way[] {
  const path = cablesToPanel(survey, cable);
  const asItLies = copperOf(survey);
  const pair = (one: Cable) => supplyPairOhms(one, id, uses, asItLies).nominal;
  const [widest] = [...path].sort((a, b) => pair(b) - pair(a));
  if (!widest) return [];
  const second: Way = {
    says: hasSparePair(widest)
      ? `Join two spare cores of ${widest.id} to its supply pair`
      : `Run a second supply pair beside ${widest.id}`,
    figures: { remedy: 'second-run', cable: widest.id },
    copper: (one, cores) => (one === widest ? scaled(asItLies(one, cores), 1 / 2) : asItLies(one, cores)),
  };
  return [second, ...thickerRuns(survey, [widest]), ...(path.length > 1 ? thickerRuns(survey, path) : [])];
}

function thickerRuns(survey: Survey, cables: readonly Cable[]): Way[] {
  const thinnest = Math.min(...cables.map(({ conductor }) => conductor.areaSquareMillimetres));
  const names = listed(cables.map(({ id }) => id));
  const asItLies = copperOf(survey);
  return SIZES[cables[0]!.conductor.system]
    .filter(({ areaSquareMillimetres }) => areaSquareMillimetres > thinnest)
    .map((conductor) => ({
      says: `Replace ${names} by ${conductor.name}`,
      figures: { remedy: 'conductor', cable: names, conductor: conductor.name },
      copper: (cable, cores) => {
        const before = asItLies(cable, cores);
        if (!cables.includes(cable)) return before;
        const { cableCelsius } = survey.conditions;
        const after = scaled(cableLoopOhms(conductor, cableMetres(cable), cableCelsius), 1 / 2);
        // A cable that is thicker already stays.
        return after.nominal < before.nominal ? after : before;
      },
    }));
}

function hasSparePair({ cores }: Cable): boolean {
  return cores.filter(({ use }) => use === 'spare').length >= 2;
}

/** The least that arrives with other copper in some cables. */
function voltsWith(survey: Survey, feed: BoardFeed, { id, cable }: SupplyLoad, copper: CopperOf): number {
  const root = rootCable(survey, cable);
  const isBeside = (one: { readonly cable: string }) => rootCable(survey, one.cable) === root;
  // What hangs on other runs matters only where an old run feeds the board, for it all flows there.
  const beside =
    feed.board.adapter.lead === null
      ? { ...feed, detectors: feed.detectors.filter(isBeside), sounders: feed.sounders.filter(isBeside) }
      : feed;
  const least = (supplyCase: 'mains' | 'batteryEnd') =>
    computeSupplyVolts(survey, beside, supplyCase, copper).get(id)!.min;
  return Math.min(least('mains'), least('batteryEnd'));
}
