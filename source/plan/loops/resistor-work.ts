import { RESISTOR_TOLERANCE } from '../../electrical/loop.ts';
import { usableClosed } from '../../electrical/sensing.ts';
import type { Board } from '../../site/board.ts';
import type { Loop } from '../../site/survey.ts';
import type { FittedResistor } from '../../wiring/wiring.ts';
import type { CircuitJoin } from '../connections/circuit-ends.ts';
import type { FittedWork, ResistorWork } from '../plan.ts';

/** Two parts of one nominal value: far inside any tolerance, past any rounding. */
const SAME_VALUE = 0.01;

export const NO_WORK: ResistorWork = { work: 'none', ohms: null, at: null, newOhms: null };

/** What is asked of the resistor of one loop on one input. */
type ResistorCase = {
  readonly loop: Loop;
  readonly join: CircuitJoin;
  readonly board: Board;
  /** True where the zone's resistor is not on this circuit, because the zone is split. */
  readonly elsewhere: boolean;
  readonly split: boolean;
  /** The most the loop reads without any resistor. */
  readonly loopMaxOhms: number;
};

/**
 * What becomes of a loop's end resistor: the board wants its own value, or none, or lives with what is there.
 * A loop of closed contacts may keep a resistor that still reads surely closed; leaving it is the least work.
 */
export function computeResistorWork(asked: ResistorCase): ResistorWork {
  const { loop, board, elsewhere } = asked;
  const at = placeOf(loop);
  const ohms = typeof loop.resistorOhms === 'number' ? loop.resistorOhms : null;
  if (board.supervision === null) {
    const sitsElsewhere = elsewhere && at !== null && typeof at === 'object';
    if (!hasResistors(loop) || sitsElsewhere) return NO_WORK;
    return { work: readsClosedWith(asked, ohms) ? 'keep' : 'remove', ohms, at, newOhms: null };
  }
  const { style, resistorOhms, alarmResistorOhms } = board.supervision;
  const wanted = {
    newOhms: resistorOhms,
    ...(style === 'two-resistor' ? { newAlarmOhms: alarmResistorOhms ?? resistorOhms } : {}),
  };
  // Bridges over the contacts go; where none stands at the end there is none to be replaced.
  if (elsewhere || loop.resistorOhms === null) return { work: 'fit', ohms: null, at: 'panel', ...wanted };
  return suits(loop, board)
    ? { work: 'keep', ohms, at, newOhms: null }
    : { work: 'replace', ohms, at, ...wanted };
}

/** Whether anything but contacts and cable is in the loop, or may be. */
export function hasResistors(loop: Loop): boolean {
  return (
    loop.resistorOhms !== null || loop.alarmResistorOhms !== null || Object.keys(loop.bridges).length > 0
  );
}

function placeOf({ resistorAt }: Loop): ResistorWork['at'] {
  if (resistorAt === null || resistorAt === 'panel' || resistorAt === 'unknown') return resistorAt;
  return { detector: resistorAt.detector };
}

/** Only where one resistor stands in series: any other style needs its parts gone to show open and closed. */
function readsClosedWith(
  { loop, join, board, split, loopMaxOhms }: ResistorCase,
  ohms: number | null,
): boolean {
  if (loop.style !== 'series' || join !== 'series' || ohms === null) return false;
  // In hand while the zone is parted: it goes.
  if (split && loop.resistorAt === 'panel') return false;
  return ohms * (1 + RESISTOR_TOLERANCE) + loopMaxOhms <= usableClosed(board.sensing).max;
}

function suits(loop: Loop, { supervision }: Board): boolean {
  if (supervision === null || typeof loop.resistorOhms !== 'number') return false;
  const same = (a: number, b: number) => Math.abs(a - b) <= SAME_VALUE * b;
  const oneResistor = loop.style === 'series' || loop.style === 'across';
  if (supervision.style === 'series') return oneResistor && same(loop.resistorOhms, supervision.resistorOhms);
  return (
    loop.style === 'two-resistor' &&
    same(loop.resistorOhms, supervision.resistorOhms) &&
    typeof loop.alarmResistorOhms === 'number' &&
    same(loop.alarmResistorOhms, supervision.alarmResistorOhms ?? supervision.resistorOhms)
  );
}

/**
 * What is no longer noticed once the resistor goes and none takes its place; null where nothing is lost. A
 * resistor at the panel stands before the cable and so never watched it.
 */
export function supervisionLost(work: ResistorWork, join: CircuitJoin): string | null {
  if (work.work !== 'remove' || work.at === 'panel' || work.at === null) return null;
  const lost =
    join === 'series'
      ? 'a short between the two conductors will read as closed and go unnoticed'
      : 'a cut conductor will read as at rest and go unnoticed';
  return work.at === 'unknown' ? `If the resistor sits at the detector, ${lost}` : `From then on ${lost}`;
}

/** What becomes of every resistor that is there today. */
export function computeFittedWork(resistors: readonly FittedResistor[], zone: ResistorWork): FittedWork[] {
  return resistors.map(({ id, role, ohms, place }) => {
    const newOhms = role === 'end-of-line' ? zone.newOhms : (zone.newAlarmOhms ?? null);
    const isReplaced = zone.work === 'replace' && newOhms !== null && role !== 'bridge';
    const work = zone.work === 'keep' ? 'keep' : isReplaced ? 'replace' : 'remove';
    return { id, role, ohms, at: place ?? 'unknown', work, newOhms: isReplaced ? newOhms : null };
  });
}
