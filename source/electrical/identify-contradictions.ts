import type { LoopFacts } from './identified-loop.ts';
import { standingOf } from './identify-shapes.ts';
import type { Interval } from './interval.ts';
import { formatQuantity } from './quantity.ts';
import { RESISTOR_RANGE } from './resistor-values.ts';

const shown = (reading: Interval) => formatQuantity(reading.nominal, 'ohms');
const isOpen = (reading: Interval) => reading.min === Number.POSITIVE_INFINITY;

/**
 * Why no loop gives these readings together: one sentence of what contradicts what, one of what to look
 * at. `null` where they can stand together.
 *
 * @param hasCandidates whether any style fits; some contradictions hold whatever the style
 */
export function contradictionIn(facts: LoopFacts, hasCandidates: boolean): string | null {
  const { rest, tamper, residual } = facts;
  if (tamper !== null && ['higher', 'lower'].includes(standingOf(tamper, facts))) {
    return `With the cover off it reads ${shown(tamper)}, neither open nor as at rest. Read again with one cover off and every detector at rest.`;
  }
  if (rest.max < residual.min) {
    return `${shown(rest)} is less than the cable alone can have. Look for a short on the way, or check the cable's length and size.`;
  }
  return hasCandidates ? null : whyNothingFits(facts);
}

function whyNothingFits(facts: LoopFacts): string {
  const { rest, active } = facts;
  const standings = active.map((reading) => standingOf(reading, facts));
  if (facts.seen !== null && !isOpen(rest)) {
    return `A resistor of ${formatQuantity(facts.seen.nominal, 'ohms')} by its colours does not give ${shown(rest)} at rest. Read the colours and the loop again.`;
  }
  const still = active.find((_, at) => standings[at] === 'same');
  if (isOpen(rest) && standings.includes('open')) {
    return 'It reads open at rest and with a detector worked. Look for a cut or loose conductor, or a detector without its supply.';
  }
  if (isOpen(rest)) {
    return `It reads open at rest and ${active.map(shown).join(', ')} with detectors worked, which no single style gives. Read each again.`;
  }
  if (still !== undefined) {
    return `It reads ${shown(rest)} at rest and ${shown(still)} with a detector worked: the contact does nothing. Check that this detector is on this loop, and that its contact is not bridged or unpowered.`;
  }
  const leak = [rest, ...active].find((reading) => !isOpen(reading) && reading.min > RESISTOR_RANGE.max);
  if (leak !== undefined) {
    return `${shown(leak)} is more than any loop's resistor. Look for damp between the conductors of an open loop.`;
  }
  if (active.length === 0) {
    return `${shown(rest)} at rest is no loop that is known here. Read it again.`;
  }
  return `${shown(rest)} at rest and ${active.map(shown).join(', ')} with detectors worked fit no single style. Read each again with all others at rest.`;
}
