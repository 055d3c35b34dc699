import type { Interval } from '../../electrical/interval.ts';
import { METER, readingWindow } from '../../electrical/loop.ts';
import type { Board } from '../../site/board.ts';
import type { Plan } from '../plan.ts';
import { adapterVolts } from './adapter.ts';
import { type BoardFeed, isPowered } from './feeds.ts';
import { leadDropVolts } from './lead.ts';

/** What a meter is to show of a supply, in volts: as computed, and what can be lived with. */
export type VoltsReading = {
  readonly min: number;
  readonly nominal: number;
  readonly max: number;
  readonly usable: { readonly min: number; readonly max: number };
};

type Planned = Pick<Plan, 'survey' | 'boards' | 'supply'>;

/** What a board feeds, as the plan has settled it. */
export function feedOf({ survey, supply }: Planned, board: Board): BoardFeed {
  const mine = supply.find((one) => one.board === board.id);
  const devices = new Set(mine?.devices.map(({ id }) => id));
  const sounders = new Set(mine?.sounders.map(({ id }) => id));
  return {
    board,
    detectors: survey.detectors.filter(isPowered).filter(({ id }) => devices.has(id)),
    sounders: survey.sounders.filter(({ id }) => sounders.has(id)),
  };
}

/** The adapter by itself on the bench. Unusable is what the board does not take, or what cannot reach it. */
export function adapterReading(plan: Planned, board: Board): VoltsReading {
  const feed = feedOf(plan, board);
  const { least, most } = adapterVolts(plan.survey, feed);
  const { fromVolts, toVolts } = board.supply.accepts;
  const lost = leadDropVolts(plan.survey, feed, 'mains').min;
  return {
    ...shown({ min: least, nominal: board.adapter.volts, max: most }),
    usable: { min: upward(fromVolts + lost), max: toVolts },
  };
}

/** Aux of a board on mains. What a detector that hangs on it does not stand is never usable. */
export function auxReading(plan: Planned, board: Board): VoltsReading {
  const { mainsVolts, mainsTolerance } = board.aux;
  const feed = feedOf(plan, board);
  const lost = leadDropVolts(plan.survey, feed, 'now');
  const stood = feed.detectors.map(({ supply }) => supply.maximumVolts);
  return {
    ...shown({
      min: mainsVolts * (1 - mainsTolerance) - lost.max,
      nominal: mainsVolts - lost.nominal,
      max: mainsVolts * (1 + mainsTolerance) - lost.min,
    }),
    // Twice its tolerance still runs the detectors; beyond that something is wrong with it.
    usable: {
      min: downward(mainsVolts * (1 - 2 * mainsTolerance) - lost.max - SPARE_VOLTS),
      max: Math.min(upward(mainsVolts * (1 + 2 * mainsTolerance) + SPARE_VOLTS), ...stood),
    },
  };
}

/** A detector's supply at its own terminals, on the day: null where the board feeds no such detector. */
export function deviceReading(plan: Planned, boardId: string, id: string): VoltsReading | null {
  const board = plan.boards.find((one) => one.id === boardId);
  const device = plan.supply.find((one) => one.board === boardId)?.devices.find((one) => one.id === id);
  if (board === undefined || device === undefined) return null;
  const doubt = board.aux.mainsVolts * board.aux.mainsTolerance;
  const { min, nominal, max } = device.now;
  return {
    ...shown({ min: min - doubt, nominal, max: max + doubt }),
    usable: { min: device.minimumVolts, max: device.maximumVolts },
  };
}

/** How far beyond twice its tolerance aux is still tried. Common practice, no source. */
const SPARE_VOLTS = 0.3;

/** With the meter's own doubt, to the hundredth that it shows, outwards. */
function shown(truth: Interval): Pick<VoltsReading, 'min' | 'nominal' | 'max'> {
  const { min, nominal, max } = readingWindow(truth, METER.volts);
  return { min: downward(min), nominal: Math.round(nominal * 100) / 100, max: upward(max) };
}

/** A sum of decimal fractions that lies a hair beside a hundredth is that hundredth. */
const HAIR = 1e-9;
const downward = (volts: number) => Math.floor(volts * 100 + HAIR) / 100;
const upward = (volts: number) => Math.ceil(volts * 100 - HAIR) / 100;
