import { formatQuantity } from '../../electrical/quantity-words.ts';
import type { Connection, OhmsWindow, Plan, ResistorWork, ZonePlan } from '../plan.ts';
import { remember } from '../remember.ts';

/** A window as it is read off a meter: `0.8 to 5.1 Ω`, `open`, `anything`. */
export function windowWords({ expected, usable }: OhmsWindow): string {
  if (expected === 'open') return usable && usable.min > 0 ? `open (over ${ohmsWords(usable.min)})` : 'open';
  if (expected === null) return 'anything';
  return spanWords(expected.min, expected.max);
}

/**
 * Bounds of a resistance, with one unit where both have the same.
 *
 * @example spanWords(2071, 2343) // => '2.07 to 2.34 kΩ'
 */
export function spanWords(minOhms: number, maxOhms: number): string {
  const low = ohmsWords(minOhms);
  const high = ohmsWords(maxOhms);
  const [figure, unit] = high.split(' ');
  return low.endsWith(` ${unit}`) ? `${low.split(' ')[0]} to ${figure} ${unit}` : `${low} to ${high}`;
}

export const ohmsWords = (value: number) => formatQuantity(value, 'ohms');

export function resistorWords({ work, ohms, at, newOhms }: ResistorWork): string {
  const where =
    at === null
      ? ''
      : at === 'unknown'
        ? ', place unknown'
        : at === 'panel'
          ? ' at panel'
          : ` at ${at.detector}`;
  const value = ohms === null ? 'resistor' : ohmsWords(ohms);
  switch (work) {
    case 'none':
      return 'none there';
    case 'keep':
      return `keep ${value}${where}`;
    case 'remove':
      return `take out ${value}${where}`;
    case 'replace':
      return `replace ${value}${where} by ${ohmsWords(newOhms ?? 0)}`;
    case 'fit':
      return `fit ${ohmsWords(newOhms ?? 0)} at panel`;
  }
}

/** Every resistor of a zone with what becomes of it; what is fitted anew where there is none. */
export function zoneResistorWords({ resistor, fitted }: ZonePlan): string {
  if (fitted.length === 0) return resistorWords(resistor);
  const verbs = { remove: 'take out', keep: 'keep', replace: 'replace' } as const;
  const words = fitted.map(({ ohms, at, work, newOhms, role }) => {
    const value = ohms === 'unknown' ? 'the resistor' : ohmsWords(ohms);
    const where = at === 'panel' ? ' at panel' : at === 'unknown' ? ', place unknown' : ` at ${at.detector}`;
    const across = role === 'bridge' ? ' across its contact' : '';
    return `${verbs[work]} ${value}${where}${across}${newOhms === null ? '' : ` by ${ohmsWords(newOhms)}`}`;
  });
  return words.join(', ');
}

/** Where a conductor goes, as one would say it over one's shoulder. */
export function goesWords(plan: Plan, connection: Connection): string {
  const { to, by } = connection;
  if ('parked' in to) return isTelephone(plan, connection) ? 'line made through' : 'park, insulated';
  if ('joint' in to) return `splice ${jointName(to.joint)}`;
  if ('stays' in to) return isLifeSafety(plan, connection) ? 'STAYS, gate first' : 'stays';
  const how = {
    direct: '',
    extension: ', extended',
    pigtail: ', by pigtail',
    block: ', by block',
    splice: ', spliced',
    parked: '',
    untouched: '',
  }[by];
  return `${to.board} ${to.terminal}${how}`;
}

const telephoneCores = remember(
  ({ wiring }: Plan) =>
    new Set(wiring.conductors.filter(({ use }) => use === 'telephone').map(({ id }) => id)),
);

/** The panel comes out of the line, and the line is made through again. */
function isTelephone(plan: Plan, { conductor }: Connection): boolean {
  return telephoneCores(plan).has(conductor);
}

function isLifeSafety(plan: Plan, connection: Connection): boolean {
  return plan.heldOut.length > 0 && 'terminal' in connection.from;
}

/**
 * `join:z1.1` is splice z1.1; `joint:b1/3.1` is new splice b1/3.1.
 *
 * @example jointName('join:z1.1') // => 'z1.1'
 */
export function jointName(node: string): string {
  return node.slice(node.indexOf(':') + 1);
}
