import type { Interval } from '../../electrical/interval.ts';
import { readingWindow } from '../../electrical/loop.ts';
import { sensingLimits, usableClosed, usableOpen } from '../../electrical/sensing.ts';
import { supervisionWindows } from '../../electrical/supervision.ts';
import type { Board } from '../../site/board.ts';
import type { OhmsWindow } from '../plan.ts';

/** What an input is to make of a loop in one state. */
export type InputState = 'closed' | 'open' | 'normal' | 'alarm-in-row' | 'alarm-across';

/**
 * What a meter may show of a loop; null where nobody can say, because it may be open or closed.
 *
 * @example expectedOf({min: 100, nominal: 100, max: 100}) // => {min: 98.5, nominal: 100, max: 101.5}
 * @example expectedOf({min: Infinity, nominal: Infinity, max: Infinity}) // => 'open'
 */
export function expectedOf(truth: Interval): OhmsWindow['expected'] {
  if (truth.min === Number.POSITIVE_INFINITY) return 'open';
  if (truth.max === Number.POSITIVE_INFINITY) return null;
  const { min, nominal, max } = readingWindow(truth);
  return { min, nominal, max };
}

/** What the input can live with in a state: half its margin left, or its own resistor's window. */
export function usableOn(board: Board, state: InputState): { min: number; max: number } {
  if (state === 'open') return usableOpen(board.sensing);
  const { supervision } = board;
  if (supervision === null) return usableClosed(board.sensing);
  const { normal, alarm } = supervisionWindows(supervision);
  switch (state) {
    case 'normal':
      return normal;
    case 'closed':
      return { min: 0, max: normal.min };
    case 'alarm-across':
      return alarm[0]!;
    case 'alarm-in-row':
      return alarm[1]!;
  }
}

/** Ohms to the limit of the input, closed and open; `Infinity` where the open state is a break. */
export function marginOn(board: Board, closed: Interval, open: Interval) {
  const { maxClosedOhms, minOpenOhms } = sensingLimits(board.sensing);
  return {
    closedOhms: maxClosedOhms - closed.max,
    openOhms: open.min === Number.POSITIVE_INFINITY ? open.min : open.min - minOpenOhms,
  };
}
