import { formatQuantity } from '../../electrical/quantity-words.ts';
import type { QuantityKind } from '../../electrical/units.ts';
import { spanWords as boundsWords, lowWords } from '../../electrical/window-words.ts';
import { listed } from '../findings/words.ts';
import type { OhmsWindow, Plan, ResistorWork, ZonePlan } from '../plan.ts';
import { type WayOut, wayOutOf } from '../work/way-out.ts';

/** A window as it is read off a meter: `0.8 to 5.1 Ω`, `open`, `anything`. */
export function windowWords({ expected, usable }: OhmsWindow): string {
  if (expected === 'open')
    return usable && usable.min > 0 ? `open (over ${lowWords(usable.min, 'ohms')})` : 'open';
  if (expected === null) return 'anything';
  return spanWords(expected.min, expected.max);
}

/** Several windows as one: from the least to the most where all are figures, else each that differs. */
export function spreadWords(windows: readonly OhmsWindow[]): string {
  const words = [...new Set(windows.map(({ expected }) => windowWords({ expected, usable: null })))];
  if (words.length < 2) return words.join('');
  const spans = windows.flatMap(({ expected }) =>
    expected === null || expected === 'open' ? [] : [expected],
  );
  if (spans.length < windows.length) return words.join(' or ');
  return spanWords(Math.min(...spans.map(({ min }) => min)), Math.max(...spans.map(({ max }) => max)));
}

/** Bounds of a resistance, as they are printed everywhere. */
export function spanWords(minOhms: number, maxOhms: number): string {
  return boundsWords(minOhms, maxOhms, 'ohms');
}

export const ohmsWords = (value: number) => formatQuantity(value, 'ohms');

/** A lower limit in ohms: never said to be more than it is. */
export const leastOhms = (value: number) => lowWords(value, 'ohms');

/** What becomes of a resistor, in words: it goes, stays, or another takes its place. Values in Ω. */
export function resistorWords({ work, ohms, at, newOhms }: ResistorWork): string {
  const where =
    at === null
      ? ''
      : at === 'unknown'
        ? ', place unknown'
        : at === 'panel'
          ? ' at the panel'
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
      return `fit ${ohmsWords(newOhms ?? 0)} at the new input`;
  }
}

/** Every resistor of a zone with what becomes of it and where it sits; what is fitted anew where there is none. */
export function zoneResistorWords(plan: Plan, { id: zone, resistor, fitted }: ZonePlan): string {
  if (fitted.length === 0) return resistorWords(resistor);
  const verbs = { remove: 'take out', keep: 'keep', replace: 'replace' } as const;
  const words = fitted.map((one) => {
    const { id, ohms, at, work, newOhms } = one;
    const value = ohms === 'unknown' ? 'the resistor' : ohmsWords(ohms);
    const where =
      at === 'panel'
        ? ` ${panelPlaceWords(plan, id)}`
        : at === 'unknown'
          ? ', place unknown'
          : ` at ${at.detector}${work === 'remove' ? WAY_OUT[wayOutOf(plan.survey, plan.wiring, zone, id)] : ''}`;
    const verb = work === 'keep' && at === 'panel' ? 'move to the new input' : verbs[work];
    return `${verb} ${value}${where}${newOhms === null ? '' : `, put in ${ohmsWords(newOhms)}`}`;
  });
  return words.join('; ');
}

const WAY_OUT: Readonly<Record<WayOut, string>> = {
  panel: '',
  'jumper-across': ' (its jumper: set it to no resistor)',
  jumper: ' (its jumper: set it to no resistor)',
  across: ' (cut it out; the pair stays joined)',
  'in-row': ' (its ends made through)',
};

/** Where at the panel a resistor sits: across two screws, or between a screw and what is wired behind it. */
function panelPlaceWords({ wiring }: Plan, id: string): string {
  const { a, b } = wiring.resistors.find((resistor) => resistor.id === id)!;
  const [screws, others] = [a, b].reduce<[string[], string[]]>(
    ([old, join], node) =>
      node.startsWith('old:') ? [[...old, jointName(node)], join] : [old, [...join, node]],
    [[], []],
  );
  if (others.length === 0) return `across screws ${listed(screws)}`;
  const behind = wiring.conductors.filter(({ near }) => others.includes(near)).map((one) => one.id);
  if (screws.length === 0 || behind.length === 0) return 'at the panel';
  return `between screw ${screws[0]} and ${listed(behind)}`;
}

/**
 * `join:z1.1` is splice z1.1; `joint:b1/3.1` is new splice b1/3.1.
 *
 * @example jointName('join:z1.1') // => 'z1.1'
 */
export function jointName(node: string): string {
  return node.slice(node.indexOf(':') + 1);
}

/**
 * A name of a field or figure as words.
 *
 * @example spelled('auxMaximumAmps') // => 'aux maximum amps'
 */
export function spelled(name: string): string {
  return name.replace(/[A-Z0-9]+/g, (part) => ` ${part.toLowerCase()}`);
}

/** What a figure of a finding measures, by how its name ends. The longer ending comes first. */
const KIND_BY_ENDING: readonly (readonly [ending: RegExp, kind: QuantityKind, scale: number])[] = [
  [/AmpHours$/, 'ampHours', 1],
  [/Amps$/, 'amps', 1],
  [/Volts$/, 'volts', 1],
  [/Ohms$/, 'ohms', 1],
  [/Hours$/, 'seconds', 3600],
  [/Seconds$/, 'seconds', 1],
  [/Metres$/, 'metres', 1],
];
/** Figures that are an end of what may be: rounded outwards. */
const ENDS_OF_WINDOWS: Readonly<Record<string, 'down' | 'up'>> = {
  worstVolts: 'down',
  mendedVolts: 'down',
  minOhms: 'down',
  usableMinOhms: 'down',
  maxOhms: 'up',
  usableMaxOhms: 'up',
};

/**
 * What a figure of a finding is called, without the unit that stands behind it.
 *
 * @example figureName('auxMaximumAmps') // => 'aux maximum'
 */
export function figureName(name: string): string {
  const [ending] = KIND_BY_ENDING.find(([one]) => one.test(name)) ?? [];
  return spelled(ending === undefined ? name : name.replace(ending, '') || name);
}

/**
 * A figure of a finding as its sentence says it.
 *
 * @example figureWords('auxMaximumAmps', 0.8) // => '800 mA'
 * @example figureWords('shortage', 2) // => '2'
 */
export function figureWords(name: string, value: number | string): string {
  if (typeof value === 'string') return value;
  const [, kind, scale] = KIND_BY_ENDING.find(([ending]) => ending.test(name)) ?? [];
  if (kind === undefined || scale === undefined) return String(Number(value.toPrecision(4)));
  return formatQuantity(value * scale, kind, { toward: ENDS_OF_WINDOWS[name] ?? 'nearest' });
}
