import type { LoopCandidate } from './identified-loop.ts';
import { formatQuantity } from './quantity.ts';

type Named = Omit<LoopCandidate, 'says' | 'fit'>;

const ohms = (value: number | null) => (value === null ? 'an unknown value' : formatQuantity(value, 'ohms'));

const STYLES: Record<LoopCandidate['style'], (one: Named) => string> = {
  plain: (one) =>
    one.contacts === 'normally-open'
      ? 'Normally open contacts side by side, no resistor'
      : 'Normally closed contacts in a row, no resistor',
  series: (one) => `Normally closed contacts in a row with one resistor of ${ohms(one.resistorOhms)}`,
  across: (one) => `Normally open contacts with one resistor of ${ohms(one.resistorOhms)} across the end`,
  mixed: (one) => `Normally closed and normally open contacts on one resistor of ${ohms(one.resistorOhms)}`,
  'two-resistor': (one) =>
    `Two resistors: ${ohms(one.resistorOhms)} at the end and ${ohms(one.alarmResistorOhms)} ${
      one.contacts === 'normally-open' ? 'behind each contact' : 'across each contact'
    }`,
  bridged: (one) =>
    `Each contact bridged by a resistor of its own${
      one.bridgeOhms?.length ? ` (${one.bridgeOhms.map(ohms).join(', ')})` : ''
    }${one.resistorOhms === null ? '' : `, with ${ohms(one.resistorOhms)} in the row`}`,
};

const PLACES = { panel: ', at the panel', detector: ', out at a detector' } as const;

/** Conductors and contacts of a sound loop stay below: common practice, no source. */
const SOUND_OHMS = 100;

/** One sentence of what a candidate is. */
export function candidateWords(one: Named): string {
  const place = one.resistorAt === null || one.resistorAt === 'unknown' ? '' : PLACES[one.resistorAt];
  const rest = one.cableOhms === null ? '' : `; about ${ohms(one.cableOhms)} of cable and contacts`;
  const doubt = one.cableOhms !== null && one.cableOhms > SOUND_OHMS ? ', more than sound ones have' : '';
  return `${STYLES[one.style](one)}${place}${rest}${doubt}.`;
}
