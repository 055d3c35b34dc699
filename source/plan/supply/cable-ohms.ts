import type { Cable, Survey } from '../../site/survey.ts';
import { remember } from '../remember.ts';

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
