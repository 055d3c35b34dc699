import type { Reason } from '../procedure/state.ts';
import type { Acted, Action, Next } from './action.ts';

/** The answer to what is no action: no record is made of it. */
export function malformed(says: string): Acted {
  return { format: 'loopward/acted@1', malformed: says };
}

/** The answer at a shut gate. */
export function refused(
  action: Action,
  because: readonly Reason[],
  records: readonly number[],
  next: Next,
): Acted {
  const what = 'step' in action && action.step !== undefined ? `${action.do} ${action.step}` : action.do;
  return {
    format: 'loopward/acted@1',
    refused: `${what} is refused.`,
    because: because.map((reason) => reason.says),
    records,
    next,
  };
}

/** The reason against an action of somebody whom nobody knows. */
export function nobody(who: string): Reason {
  return {
    code: 'nobody-of-that-name',
    says: `Nobody called ${who} has started a shift here. Start one first.`,
  };
}

/** The reason against an action of somebody while another one is on shift. */
export function notOnShift(who: string, instead: string): Reason {
  const says = `${who} is not working here now, ${instead} is. Say who is working, with your name and your meter (start-shift).`;
  return { code: 'not-on-shift', says };
}
