import { ohms as ohmsWords } from '../../plan/findings/words.ts';
import type { Circuit } from '../../plan/plan.ts';
import { nameOfDetector } from '../drawing/strip.ts';
import type { HandoverSource } from '../sections/source.ts';
import { circuitLeft, type Hangs, type ResistorLeft } from './circuits.ts';

const DOES_NOT: Readonly<Record<Exclude<Hangs, 'on'>, string>> = {
  off: 'NOT CONNECTED',
  unknown: 'NOT KNOWN whether connected',
};

/** What reports on an input as left, in the site's names; what was to and does not is said beside it. */
export function reportsWords({ plan, left }: HandoverSource, circuit: Circuit, tamper: string): string {
  const { hangs, more } = circuitLeft(plan, circuit, left);
  const nameOf = (key: string) => nameOfDetector(plan, key.replace(/\.tamper$/, ''));
  const told = (key: string) => `${nameOf(key)}${key.endsWith('.tamper') ? ' (tamper)' : ''}`;
  const off = [...hangs].flatMap(([key, how]) => (how === 'on' ? [] : [[key, how] as const]));
  const names =
    circuit.purpose === 'tamper'
      ? tamper
      : circuit.detectors.map((id) => nameOfDetector(plan, id)).join(' + ');
  if (off.length === 0) return [names, ...more.map((key) => `also ${told(key)}`)].join(', ');
  const [how] = new Set(off.map(([, one]) => one));
  if (off.length === hangs.size && off.every(([, one]) => one === how)) return `${DOES_NOT[how!]}: ${names}`;
  const on = [...hangs].flatMap(([key, one]) => (one === 'on' ? [told(key)] : []));
  return [on.join(' + '), ...off.map(([key, one]) => `${DOES_NOT[one]}: ${told(key)}`)]
    .filter((part) => part !== '')
    .join('; ');
}

/** A resistor as it stands: `removed 2200 Ω`. */
export function sayResistor({ stands, ohms, at }: ResistorLeft): string {
  const value = ohms === 'unknown' ? 'a resistor' : ohmsWords(ohms);
  const where = at === 'unknown' ? 'place not known' : `at ${at === 'panel' ? 'the panel' : at}`;
  if (stands === 'out') return `removed ${value}`;
  if (stands === 'fitted') return `fitted ${value}`;
  if (stands === 'in') return `still in: ${value} ${where}`;
  if (stands === 'kept') return `kept ${value}`;
  return stands === 'missing' ? `NOT FITTED ${value}` : `${value}, NOT KNOWN whether out`;
}
