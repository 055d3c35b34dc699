import type { Bounds, Interval } from '../../electrical/interval.ts';
import { readingWindow } from '../../electrical/loop.ts';
import { ohmsUnderRise, sensingLimits, usableClosed, usableOpen } from '../../electrical/sensing.ts';
import { type Supervision, supervisionWindows } from '../../electrical/supervision.ts';
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

/**
 * What the input can live with in a state: half its margin left, or its own resistor's window.
 *
 * @param returnRiseVolts what other currents lift the loop's return by
 */
export function usableOn(board: Board, state: InputState, returnRiseVolts = 0): { min: number; max: number } {
  if (state === 'open') return usableOpen(board.sensing);
  if (board.supervision === null) return usableClosed(board.sensing, returnRiseVolts);
  const { min, max } = supervisedOn(board.supervision, state);
  return { min, max: ohmsUnderRise(max, board.sensing, returnRiseVolts) };
}

function supervisedOn(supervision: Supervision, state: Exclude<InputState, 'open'>): Bounds {
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

/**
 * Ohms to the limit of the input, closed and open, in the way that leaves least; `Infinity` where the open state is a
 * break.
 *
 * @param closed what the loop may have in each way of being closed, and what lifts its return then
 */
export function marginOn(
  { sensing }: Board,
  closed: readonly (Interval & { readonly riseVolts: number })[],
  open: readonly Interval[],
) {
  const { minOpenOhms } = sensingLimits(sensing);
  const left = closed.map(({ max, riseVolts }) => sensingLimits(sensing, riseVolts).maxClosedOhms - max);
  return {
    closedOhms: Math.min(...left),
    openOhms: Math.min(...open.map(({ min }) => min)) - minOpenOhms,
  };
}
