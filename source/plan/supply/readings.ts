import { exactly, type Interval } from '../../electrical/interval.ts';
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
export function adapterReading(plan: Planned, board: Board): VoltsReading & Catching {
  const feed = feedOf(plan, board);
  const { least, most } = adapterVolts(plan.survey, feed);
  const { fromVolts, toVolts } = board.supply.accepts;
  const lost = leadDropVolts(plan.survey, feed, 'mains').min;
  // What may be just enough by the meter's own doubt is no fault of the adapter.
  const charging = readingWindow(exactly(chargingVolts(plan, feed)), METER.volts).min;
  return {
    ...shown({ min: least, nominal: board.adapter.volts, max: most }),
    usable: { min: Math.max(upward(fromVolts + lost), downward(charging)), max: toVolts },
    catches: [
      { fault: 'an adapter that is too low for the board', gives: fromVolts + lost - 0.1 },
      { fault: 'an adapter that destroys the board', gives: toVolts + 0.1 },
      ...(charging > 0 ? [{ fault: 'an adapter that never fills the battery', gives: charging - 0.1 }] : []),
    ],
  };
}

/**
 * Below this at the adapter's plug the battery of its board never fills. Where the board's own adapter does not bring it,
 * the plan has said so, and it is no fault of the one in hand.
 */
export function chargingVolts({ survey }: Pick<Planned, 'survey'>, feed: BoardFeed): number {
  const { battery } = feed.board;
  if (battery === null) return 0;
  const { least, floatLeast } = adapterVolts(survey, feed);
  const wanted = battery.floatVolts + (least - floatLeast);
  return wanted > least ? 0 : wanted;
}

/**
 * A lead-acid battery of six cells, by its nominal volts: at rest it shows 12.6 to 12.9 V full, about 12.4 V at three
 * quarters, 12.0 V at a quarter, 11.8 V nearly flat, no more than 13.2 V once its charger is off for minutes, and a cell that is
 * dead takes a sixth away (Linden, Handbook of Batteries, lead-acid chapter; these from memory). New ones are stored full.
 */
const AT_REST = {
  full: 12.85 / 12,
  threeQuarters: 12.4 / 12,
  quarter: 12.0 / 12,
  nearlyFlat: 11.8 / 12,
  settled: 13.2 / 12,
};

/** A new battery by itself. */
export function newBatteryReading(fitted: NonNullable<Board['battery']>): VoltsReading & Catching {
  const { volts, floatVolts } = fitted;
  const full = volts * AT_REST.full;
  const least = downward(volts * AT_REST.threeQuarters);
  return {
    min: least,
    nominal: toHundredth(full),
    max: upward(floatVolts),
    usable: { min: least, max: upward(floatVolts * 1.06) },
    catches: [
      { fault: 'a dead cell', gives: (full * 5) / 6 },
      { fault: 'a battery that stood uncharged for too long', gives: volts * AT_REST.quarter },
    ],
  };
}

/** Aux five minutes after the adapter was pulled, the board in standby. */
export function onBatteryReading(
  board: Board,
  fitted: NonNullable<Board['battery']>,
): VoltsReading & Catching {
  const { dropFromBatteryVolts: drop, mainsVolts, mainsTolerance } = board.aux;
  const least = downward(fitted.volts * AT_REST.quarter - drop);
  const most = upward(fitted.volts * AT_REST.settled - drop);
  const stillFed = mainsVolts * (1 - mainsTolerance);
  return {
    min: least,
    nominal: toHundredth(fitted.volts * AT_REST.threeQuarters - drop),
    max: most,
    usable: { min: least, max: most },
    catches: [
      { fault: 'a battery that is nearly flat', gives: fitted.volts * AT_REST.nearlyFlat - drop },
      ...(stillFed > most ? [{ fault: 'an adapter that still feeds it', gives: stillFed }] : []),
    ],
  };
}

type Catching = { readonly catches: readonly { readonly fault: string; readonly gives: number }[] };

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
  const window = shown({ min: min - doubt, nominal, max: max + doubt });
  // What runs it today on mains and is less than computed will not run it at the end of the battery.
  return { ...window, usable: { min: Math.max(window.min, device.minimumVolts), max: device.maximumVolts } };
}

/** How far beyond twice its tolerance aux is still tried. Common practice, no source. */
const SPARE_VOLTS = 0.3;

/** With the meter's own doubt, to the hundredth that it shows, outwards. */
function shown(truth: Interval): Pick<VoltsReading, 'min' | 'nominal' | 'max'> {
  const { min, nominal, max } = readingWindow(truth, METER.volts);
  return { min: downward(min), nominal: toHundredth(nominal), max: upward(max) };
}

/** A sum of decimal fractions that lies a hair beside a hundredth is that hundredth. */
const HAIR = 1e-9;
const toHundredth = (volts: number) => Math.round(volts * 100) / 100;
const downward = (volts: number) => Math.floor(volts * 100 + HAIR) / 100;
const upward = (volts: number) => Math.ceil(volts * 100 - HAIR) / 100;
