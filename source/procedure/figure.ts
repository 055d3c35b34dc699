import { isOverRange, type Parsed, parseQuantity, type QuantityKind } from '../electrical/quantity.ts';
import type { ReadingProof } from './step.ts';

export const QUANTITY_OF: Readonly<Record<ReadingProof['of'], 'ohms' | 'volts' | 'amps'>> = {
  ohms: 'ohms',
  'volts-dc': 'volts',
  'volts-ac': 'volts',
  amps: 'amps',
} satisfies Readonly<Record<ReadingProof['of'], QuantityKind>>;

/** Above this no figure is recorded in thousandths: 9 gigohm, far beyond any meter's range. */
const GREATEST = 9e9;

/**
 * What a meter shows, as it was typed: the one place where an answer becomes a figure. Infinity is an open circuit in
 * ohms; in volts it is more than the range shows, which is no open circuit and counts as the most there can be.
 *
 * @example readFigure('volts-dc', 'OL') // => { ok: true, value: Infinity }
 */
export function readFigure(of: ReadingProof['of'], typed: string): Parsed<number> {
  if (isOverRange(typed) && of !== 'ohms') {
    if (of !== 'amps') return { ok: true, value: Number.POSITIVE_INFINITY };
    return {
      ok: false,
      says: 'OL in amps is more than this range shows. Take a greater range and type its figure.',
    };
  }
  const parsed = parseQuantity(typed, QUANTITY_OF[of], 'field-unit');
  if (!parsed.ok) return parsed;
  if (of === 'ohms' && parsed.value > GREATEST) return { ok: true, value: Number.POSITIVE_INFINITY };
  if (Math.abs(parsed.value) > GREATEST)
    return { ok: false, says: 'No meter reads that much. Type the figure again.' };
  return parsed;
}
