import { isOver, isUnder } from '../../electrical/limit.ts';
import type { Survey } from '../../site/survey.ts';
import type { BoardFeed } from './feeds.ts';
import { floatDropVolts, leadDropVolts } from './lead.ts';

/** By the board's file, the one source of it for findings, cards and parts. */
type AdapterVolts = {
  /** By itself, at its own plug. */
  readonly least: number;
  readonly most: number;
  /** At the board, with the old run that brings it there where one does, in alarm and charging. */
  readonly boardLeast: number;
  /** At the board with the battery full, in standby: below the float voltage it never fills. */
  readonly floatLeast: number;
};

/** What a board's adapter gives by itself and at the board. */
export function adapterVolts(survey: Survey, feed: BoardFeed): AdapterVolts {
  const { volts, tolerance } = feed.board.adapter;
  const least = volts * (1 - tolerance);
  return {
    least,
    most: volts * (1 + tolerance),
    boardLeast: least - leadDropVolts(survey, feed, 'mains').max,
    floatLeast: least - floatDropVolts(survey, feed).max,
  };
}

/** What an adapter must keep to at its own plug, tolerance and all, so that the board lives and its battery fills. */
export type AdapterWanted = {
  readonly from: number;
  readonly to: number;
  /** A nominal voltage in the middle, and the widest tolerance that stays inside; null where nothing does. */
  readonly advised: { readonly volts: number; readonly tolerance: number } | null;
};

/** Tenths of a volt are what adapters are set to, whole per cents what they state; below 1 % none is sold. Practice. */
const LEAST_TOLERANCE = 0.01;

/** Between what an adapter for this board must keep. */
export function adapterWanted(survey: Survey, feed: BoardFeed): AdapterWanted {
  const { supply, battery } = feed.board;
  const from = Math.max(
    supply.accepts.fromVolts + leadDropVolts(survey, feed, 'mains').max,
    battery ? battery.floatVolts + floatDropVolts(survey, feed).max : 0,
  );
  const to = supply.accepts.toVolts;
  return { from, to, advised: advisedWithin(from, to) };
}

function advisedWithin(from: number, to: number): AdapterWanted['advised'] {
  const middle = Math.round(((from + to) / 2) * 10) / 10;
  // Never wider than the commonest tolerance: what is asked for should be what can be bought.
  for (const tolerance of [0.05, 0.04, 0.03, 0.02, LEAST_TOLERANCE])
    if (!isUnder(middle * (1 - tolerance), from) && !isOver(middle * (1 + tolerance), to))
      return { volts: middle, tolerance };
  return null;
}
