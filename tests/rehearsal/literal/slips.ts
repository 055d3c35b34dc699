import type { OpenStep } from '../../../source/job/action.ts';
import { seededRandom } from '../../../source/rehearsal/building/random.ts';

/** Of a board that stands nowhere or has no supply nothing more can be done: that is no slip. */
const NO_SLIP = new Set(['mount', 'isolate', 'connect-source', 'remove', 'open-enclosure', 'label']);
const isWiring = (act: OpenStep['acts'][number]) => !NO_SLIP.has(act.do);

/** How many cards of those that may be given up have something left out. */
const SHARE = 0.12;

/**
 * Which acts of a card are left undone on one site, by chance: one, or all of them. Each card is asked once, so that
 * it is done when it is come back to.
 */
export function slipsOf(seed: number): (step: OpenStep) => ReadonlySet<number> {
  const random = seededRandom(seed, 'slips');
  const asked = new Set<string>();
  return ({ id, acts }) => {
    if (!acts.some(isWiring) || asked.has(id)) return new Set();
    asked.add(id);
    if (random.next() >= SHARE) return new Set();
    const indices = acts.flatMap((act, index) => (isWiring(act) ? [index] : []));
    return new Set(random.next() < 0.4 ? indices : [random.pick(indices)]);
  };
}
