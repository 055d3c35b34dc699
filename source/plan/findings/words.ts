import { formatQuantity } from '../../electrical/quantity-words.ts';
import type { QuantityKind } from '../../electrical/units.ts';
import { lowWords } from '../../electrical/window-words.ts';

/** Figures in sentences, with their units. */
export const amps = (value: number) => formatQuantity(value, 'amps');
export const volts = (value: number) => formatQuantity(value, 'volts');
/** The least that there may be: never said to be more. */
export const leastVolts = (value: number) => lowWords(value, 'volts');
export const ohms = (value: number) => formatQuantity(value, 'ohms');
export const ampHours = (value: number) => formatQuantity(value, 'ampHours');
export const metres = (value: number) => formatQuantity(value, 'metres');
export const seconds = (value: number) => formatQuantity(value, 'seconds');
export const hours = (value: number) => formatQuantity(value * 3600, 'seconds');

/**
 * What goes beyond a limit, beside that limit. Where both would read the same, how much it is beyond it.
 *
 * @example beyondWords(1.2, 1, 'amps') // => '1.2 A'
 * @example beyondWords(1.004, 1, 'amps') // => '4 mA more'
 * @example beyondWords(8.9996, 9, 'volts') // => '0.001 V less'
 */
export function beyondWords(value: number, limit: number, kind: QuantityKind): string {
  const said = formatQuantity(value, kind);
  if (said !== formatQuantity(limit, kind)) return said;
  return `${formatQuantity(Math.abs(value - limit), kind, { toward: 'up' })} ${value > limit ? 'more' : 'less'}`;
}

/**
 * `a`, `a and b`, `a, b and c`.
 *
 * @example listed(['a', 'b', 'c']) // => 'a, b and c'
 */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
