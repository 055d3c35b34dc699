import { formatQuantity } from '../../electrical/quantity-words.ts';

/** Figures in sentences, with their units. */
export const amps = (value: number) => formatQuantity(value, 'amps');
export const volts = (value: number) => formatQuantity(value, 'volts');
export const ohms = (value: number) => formatQuantity(value, 'ohms');
export const ampHours = (value: number) => formatQuantity(value, 'ampHours');
export const metres = (value: number) => formatQuantity(value, 'metres');
export const hours = (value: number) => `${Number(value.toPrecision(3))} h`;

/**
 * `a`, `a and b`, `a, b and c`.
 *
 * @example listed(['a', 'b', 'c']) // => 'a, b and c'
 */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
