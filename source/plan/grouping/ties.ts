import type { Survey } from '../../site/survey.ts';
import { fedElsewhere, isPowered, rootCable } from '../supply/feeds.ts';
import type { Group } from './group.ts';
import type { Ties } from './place.ts';

/** What ties groups to one common or one board: a return core in common, a supply pair in common. */
export function tiesOfGroups(survey: Survey): (group: Group) => Ties {
  const detectorById = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  const elsewhere = fedElsewhere(survey);
  const known = new Map<Group, Ties>();
  return (group) => {
    const ties = known.get(group) ?? tie(group);
    known.set(group, ties);
    return ties;
  };

  function tie(group: Group): Ties {
    const detectors = group.units.flatMap((unit) => unit.detectors.map((id) => detectorById.get(id)!));
    const powered = detectors.filter(isPowered).filter(({ id }) => !elsewhere.has(id));
    return {
      returns: group.units.flatMap(({ returns }) => returns),
      feeds: [...new Set(powered.map(({ cable }) => rootCable(survey, cable)))],
      auxAmps: powered.reduce((sum, { supply }) => sum + Math.max(supply.standbyAmps, supply.alarmAmps), 0),
    };
  }
}
