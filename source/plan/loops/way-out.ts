import type { Survey } from '../../site/survey.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { FittedWork } from '../plan.ts';

/** How a resistor out at a detector stands in its loop, and so how it comes out. */
export type WayOut = 'jumper' | 'across' | 'in-row';

/**
 * One across the pair or across its contact just goes; one in the row leaves two ends that are made through,
 * unless the detector sets it by a jumper.
 */
export function wayOutOf(survey: Survey, wiring: Wiring, zone: string, { id, role }: FittedWork): WayOut {
  const { style, resistorAt } = [...survey.zones, ...survey.tampers].find((one) => one.id === zone)!.loop;
  if (role === 'end-of-line') {
    if (style === 'across') return 'across';
    return typeof resistorAt === 'object' && resistorAt?.by === 'jumper' ? 'jumper' : 'in-row';
  }
  const { a, b } = wiring.resistors.find((one) => one.id === id)!;
  const isBeside = wiring.contacts.some((one) => [one.a, one.b].sort().join() === [a, b].sort().join());
  return isBeside ? 'across' : 'in-row';
}
