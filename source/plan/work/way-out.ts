import type { Survey } from '../../site/survey.ts';
import { isPanelPlace } from '../../wiring/bench.ts';
import type { FittedResistor, Wiring } from '../../wiring/wiring.ts';

/**
 * How a resistor stands in its loop, and so how it comes out: `panel`, in the old enclosure; `jumper` and `jumper-across`, set inside the
 * detector; `across` the pair or its contact; `in-row`, between two ends.
 */
export type WayOut = 'panel' | 'jumper' | 'jumper-across' | 'across' | 'in-row';

/**
 * One across the pair or across its contact just goes; one in the row leaves two ends that are joined, unless the
 * detector sets it by a jumper. What stands at the panel goes with the screws it is under.
 */
export function wayOutOf(survey: Survey, wiring: Wiring, zone: string, id: string): WayOut {
  const resistor = wiring.resistors.find((one) => one.id === id)!;
  if (isAtPanel(resistor)) return 'panel';
  const across = isAcross(survey, wiring, zone, resistor);
  if (resistor.by === 'jumper') return across ? 'jumper-across' : 'jumper';
  return across ? 'across' : 'in-row';
}

/** Whether a resistor sits in the old panel's enclosure: between its screws, or in a splice there. */
export function isAtPanel({ place, a, b }: FittedResistor): boolean {
  return place === 'panel' || (place === null && isPanelPlace(a) && isPanelPlace(b));
}

/** True where taking it out leaves a gap nobody needs; false where its ends must be joined. */
export function isAcross(survey: Survey, wiring: Wiring, zone: string, resistor: FittedResistor): boolean {
  const contacts = wiring.contacts.filter((one) => one.zone === zone);
  const { a, b, role } = resistor;
  if (contacts.some((contact) => new Set([contact.a, contact.b, a, b]).size === 2)) return true;
  if (role !== 'end-of-line') return false;
  const { style } = [...survey.zones, ...survey.tampers].find((one) => one.id === zone)!.loop;
  return (
    style === 'across' ||
    (style === 'two-resistor' && contacts.some(({ sense }) => sense === 'normally-open'))
  );
}
