import type { Interval } from '../../electrical/interval.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { pairOhms } from '../../site/worth.ts';
import type { CoreUse } from '../../wiring/wiring.ts';
import { remember } from '../remember.ts';

/** The supply pair of this cable: cores that share a task carry the current side by side. */
export function supplyPairOhms(cable: Cable, survey: Survey): Interval {
  const share = (1 / coresOf(cable, 'aux-positive') + 1 / coresOf(cable, 'aux-negative')) / 2;
  const pair = pairOhms(cable, survey);
  return { min: pair.min * share, nominal: pair.nominal * share, max: pair.max * share };
}

function coresOf(cable: Cable, use: CoreUse): number {
  // Cores for different devices are pairs of their own, not one thicker conductor.
  const cores = cable.cores.filter((core, index) => taskOf(cable, index) === use && core.use !== 'doubled');
  if (new Set(cores.map((core) => core.for)).size > 1) return 1;
  return Math.max(1, cable.cores.filter((_, index) => taskOf(cable, index) === use).length);
}

/** A doubled core lies beside the one listed before it. */
function taskOf(cable: Cable, index: number): CoreUse | undefined {
  const use = cable.cores[index]?.use;
  return use === 'doubled' && index > 0 ? taskOf(cable, index - 1) : use;
}

/** The cables of a site by id, and by the cable they go on from. */
export const cableTree = remember((survey: Survey) => {
  const byId = new Map(survey.cables.map((cable) => [cable.id, cable]));
  const children = new Map<string, Cable[]>();
  for (const cable of survey.cables) {
    const here = children.get(cable.from);
    if (here) here.push(cable);
    else children.set(cable.from, [cable]);
  }
  return { byId, childrenOf: (id: string): readonly Cable[] => children.get(id) ?? [] };
});

/** The cables from a cable back to the panel, nearest to the device first. */
export function cablesToPanel(survey: Survey, start: string): Cable[] {
  const { byId } = cableTree(survey);
  const path: Cable[] = [];
  for (let cable = byId.get(start); cable && !path.includes(cable); cable = byId.get(cable.from))
    path.push(cable);
  return path;
}
