import { isOver } from '../../electrical/limit.ts';
import type { Board } from '../../site/board.ts';
import type { Detector, Sounder, Survey } from '../../site/survey.ts';
import type { Placed } from '../grouping/place.ts';
import type { LifeSafety } from '../life-safety.ts';
import { remember } from '../remember.ts';
import { cablesToPanel } from './cable-ohms.ts';

/** A detector that a board's aux feeds. */
export type PoweredDetector = Detector & { readonly supply: Exclude<Detector['supply'], null | 'from-loop'> };

/** What hangs on one board: everything that draws from it. */
export type BoardFeed = {
  readonly board: Board;
  readonly detectors: readonly PoweredDetector[];
  readonly sounders: readonly Sounder[];
};

/** Whether a detector draws current from a supply of its own pair. */
export function isPowered(detector: Detector): detector is PoweredDetector {
  return detector.supply !== null && detector.supply !== 'from-loop';
}

const assumedCurrents = remember(
  ({ assumed }: Survey) =>
    new Set(
      assumed
        .filter(({ field }) => field === 'supply.standby' || field === 'supply.alarm')
        .map(({ about }) => about),
    ),
);

/** True where a usual figure stands in for what the detector draws. */
export function isAssumedCurrent(survey: Survey, { id }: Detector): boolean {
  return assumedCurrents(survey).has(id);
}

/** Detectors that another supply in the building feeds: not this board's load, and a source of its own. */
export function fedElsewhere(survey: Survey): Set<string> {
  return new Set(survey.supplies.flatMap((supply) => supply.feeds));
}

/** The cable at the panel through which a detector is fed. */
export function rootCable(survey: Survey, cable: string): string {
  return cablesToPanel(survey, cable).at(-1)?.id ?? cable;
}

/**
 * Which board feeds what. One cable's supply pair has one end at the panel, so all detectors on it are fed
 * by the board on which the first of them landed. Sounders go to the first board whose output carries them.
 */
export function computeFeeds(
  survey: Survey,
  boards: readonly Board[],
  placed: readonly Placed[],
  lifeSafety: LifeSafety,
): BoardFeed[] {
  const boardOfDetector = new Map(
    placed.flatMap((place) =>
      place.group.units.flatMap((unit) => unit.detectors.map((id) => [id, place.board.id] as const)),
    ),
  );
  const elsewhere = fedElsewhere(survey);
  const powered = survey.detectors
    .filter(isPowered)
    .filter((detector) => !lifeSafety.ids.has(detector.id) && !elsewhere.has(detector.id));
  const boardOfRoot = new Map<string, string>();
  for (const detector of powered) {
    const root = rootCable(survey, detector.cable);
    const board = boardOfDetector.get(detector.id);
    if (board !== undefined && !boardOfRoot.has(root)) boardOfRoot.set(root, board);
  }
  const sounderBoard = placeSounders(survey, boards, placed);
  return boards.map((board) => ({
    board,
    detectors: powered.filter((detector) => boardOfRoot.get(rootCable(survey, detector.cable)) === board.id),
    sounders: survey.sounders.filter((sounder) => sounderBoard.get(sounder.id) === board.id),
  }));
}

/** What a sounder with its strobe draws; a current nobody knows counts as none here and is asked for. */
export function sounderAmps(sounder: Sounder): number {
  return (sounder.currentAmps ?? 0) + (sounder.strobeAmps ?? 0);
}

/** What a board's supply leaves for everything but charging. */
export function limitAmps({ adapter, supply, battery }: Board): number {
  return Math.min(adapter.amps, supply.maximumAmps) - (battery?.chargeAmps ?? 0);
}

/** What keeps a board's sounders quiet. */
export function holdOffAmps({ sounders }: BoardFeed): number {
  return sounders.reduce((sum, sounder) => sum + (sounder.holdOffAmps ?? 0), 0);
}

/** A sounder goes where its tamper loop landed, which may come back over its negative, if that board carries it. */
export function placeSounders(
  survey: Survey,
  boards: readonly Board[],
  placed: readonly Placed[],
): Map<string, string> {
  const able = boards.filter((board) => board.sounder !== null);
  const left = new Map(able.map((board) => [board.id, board.sounder!.amps]));
  const chosen = new Map<string, string>();
  for (const run of soundersByRun(survey)) {
    const amps = run.reduce((sum, sounder) => sum + sounderAmps(sounder), 0);
    const tampers = survey.tampers
      .filter(({ through }) => run.some(({ id }) => through.includes(id)))
      .map(({ id }) => id);
    const beside = new Set(
      placed
        .filter(({ group }) => group.units.some(({ zone }) => tampers.includes(zone)))
        .map(({ board }) => board.id),
    );
    const first = [...able].sort((a, b) => Number(beside.has(b.id)) - Number(beside.has(a.id)));
    const board = first.find((candidate) => !isOver(amps, left.get(candidate.id)!)) ?? able[0];
    if (!board) continue;
    for (const { id } of run) chosen.set(id, board.id);
    left.set(board.id, left.get(board.id)! - amps);
  }
  return chosen;
}

/** Sounders that hang on one cable at the panel have one end there, and so one board. */
function soundersByRun(survey: Survey): Sounder[][] {
  const runs = new Map<string, Sounder[]>();
  for (const sounder of survey.sounders) {
    const root = rootCable(survey, sounder.cable);
    runs.set(root, [...(runs.get(root) ?? []), sounder]);
  }
  return [...runs.values()];
}
