import { cableLoopOhms, LENGTH_TOLERANCE } from '../../electrical/conductor.ts';
import { type Interval, within } from '../../electrical/interval.ts';
import type { Cable, CoreUse, Survey } from '../../site/survey.ts';

/** One way, with the doubt that goes with how the length is known. */
export function cableMetres(cable: Cable): Interval {
  return within(cable.lengthMetres, LENGTH_TOLERANCE[cable.lengthKnown]);
}

/** A pair of this cable out and back, at the site's cable temperature. */
export function pairOhms(cable: Cable, survey: Survey): Interval {
  return cableLoopOhms(cable.conductor, cableMetres(cable), survey.conditions.cableCelsius);
}

/** The supply pair of this cable: cores that share a task carry the current side by side. */
export function supplyPairOhms(cable: Cable, survey: Survey): Interval {
  const share = (1 / coresOf(cable, 'aux-positive') + 1 / coresOf(cable, 'aux-negative')) / 2;
  const pair = pairOhms(cable, survey);
  return { min: pair.min * share, nominal: pair.nominal * share, max: pair.max * share };
}

function coresOf(cable: Cable, use: CoreUse): number {
  // Cores for different devices are pairs of their own, not one thicker conductor.
  const cores = cable.cores.filter((core) => core.use === use);
  return new Set(cores.map((core) => core.for)).size > 1 ? 1 : Math.max(1, cores.length);
}

/** The cables from a cable back to the panel, nearest to the device first. */
export function cablesToPanel(survey: Survey, start: string): Cable[] {
  const path: Cable[] = [];
  let id = start;
  while (id !== 'panel') {
    const cable = survey.cables.find((candidate) => candidate.id === id);
    if (!cable || path.includes(cable)) break;
    path.push(cable);
    id = cable.from;
  }
  return path;
}
