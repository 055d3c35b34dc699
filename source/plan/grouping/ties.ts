import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import {
  fedElsewhere,
  isAssumedCurrent,
  isPowered,
  limitAmps,
  type PoweredDetector,
  placeSounders,
  rootCable,
  sounderAmps,
} from '../supply/feeds.ts';
import type { Group } from './group.ts';
import type { BoardRoom, Ties } from './place.ts';

/** What ties groups to one common or one board: a return core in common, a supply pair in common. */
export function tiesOfGroups(survey: Survey, groups: readonly Group[]): (group: Group) => Ties {
  const detectorById = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  const elsewhere = fedElsewhere(survey);
  const fed = survey.detectors.filter(isPowered).filter(({ id }) => !elsewhere.has(id));
  const groupOf = new Map(
    groups.flatMap((group) =>
      group.units.flatMap(({ detectors }) => detectors.map((id) => [id, group] as const)),
    ),
  );
  const decided = detectorsDecided(survey, fed, groupOf);
  const known = new Map(groups.map((group) => [group, tie(group)]));
  return (group) => known.get(group)!;

  function tie(group: Group): Ties {
    const detectors = group.units.flatMap((unit) => unit.detectors.map((id) => detectorById.get(id)!));
    const powered = detectors.filter(isPowered).filter(({ id }) => !elsewhere.has(id));
    const draws = decided.get(group) ?? [];
    const drawn = sum(draws, mostAmps);
    const sounders = soundersBeside(survey, group);
    return {
      returns: group.units.flatMap(({ returns }) => returns),
      feeds: [...new Set(powered.map(({ cable }) => rootCable(survey, cable)))],
      auxAmps: drawn + sum(sounders, ({ holdOffAmps }) => holdOffAmps ?? 0),
      supplyAmps: drawn + sum(sounders, sounderAmps),
      doubtfulAmps: sum(
        draws.filter((detector) => isAssumedCurrent(survey, detector)),
        mostAmps,
      ),
    };
  }
}

/** What each board has for groups: less itself, and less the sounders that go with no tamper loop. */
export function roomOfBoards(
  survey: Survey,
  boards: readonly Board[],
  groups: readonly Group[],
): BoardRoom[] {
  const beside = new Set(groups.flatMap((group) => soundersBeside(survey, group)));
  const boardOf = placeSounders(survey, boards, []);
  return boards.map((board) => {
    const here = survey.sounders.filter(
      (sounder) => !beside.has(sounder) && boardOf.get(sounder.id) === board.id,
    );
    return {
      auxAmps: board.aux.amps - sum(here, ({ holdOffAmps }) => holdOffAmps ?? 0),
      supplyAmps: limitAmps(board) - board.own.standbyAmps - sum(here, sounderAmps),
    };
  });
}

/** The detectors that are fed where a group stands: all on a cable go with the first of them that is placed. */
function detectorsDecided(
  survey: Survey,
  fed: readonly PoweredDetector[],
  groupOf: ReadonlyMap<string, Group>,
): Map<Group, PoweredDetector[]> {
  const groupOfRoot = new Map<string, Group>();
  const decided = new Map<Group, PoweredDetector[]>();
  for (const { id, cable } of fed) {
    const root = rootCable(survey, cable);
    const group = groupOf.get(id);
    if (group && !groupOfRoot.has(root)) groupOfRoot.set(root, group);
  }
  for (const detector of fed) {
    const group = groupOfRoot.get(rootCable(survey, detector.cable));
    if (group) decided.set(group, [...(decided.get(group) ?? []), detector]);
  }
  return decided;
}

/** Sounders go where the first tamper loop through them lands. */
function soundersBeside(survey: Survey, { units }: Group) {
  const zones = new Set(units.filter(({ purpose }) => purpose === 'tamper').map(({ zone }) => zone));
  return survey.sounders.filter(({ id }) => {
    const first = survey.tampers.find(({ through, keep }) => through.includes(id) && keep === 'yes');
    return first !== undefined && zones.has(first.id);
  });
}

function mostAmps({ supply }: PoweredDetector): number {
  return Math.max(supply.standbyAmps, supply.alarmAmps);
}

function sum<T>(of: readonly T[], amps: (one: T) => number): number {
  return of.reduce((total, one) => total + amps(one), 0);
}
