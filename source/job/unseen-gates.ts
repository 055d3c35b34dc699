import type { Reason } from '../procedure/state.ts';
import type { OpenedGate } from '../site/opened-gates.ts';

/** One gate that a correction takes away. */
export function sayOpened({ field, was, now }: OpenedGate): string {
  return `This takes a gate away: ${field} was ${was}, and would be ${now}.`;
}

/** The shortest that tells both what and where. */
const SEEN_LEAST = 8;

/** A gate is not taken away by a figure alone: somebody on shift says what was seen, and where. */
export function unseenGates(opened: readonly OpenedGate[], seen: string | undefined): Reason[] {
  if (opened.length === 0 || (seen ?? '').trim().length >= SEEN_LEAST) return [];
  const says = `${opened.map(sayOpened).join(' ')} Say what you saw there, and where (seen).`;
  return [{ code: 'gate-unseen', says }];
}
