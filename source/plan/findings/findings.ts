import type { Finding } from '../plan.ts';
import type { Facts } from './facts.ts';

/** Everything that must be known before somebody opens the enclosure, most severe first. */
export function computeFindings(_facts: Facts): Finding[] {
  return [];
}
