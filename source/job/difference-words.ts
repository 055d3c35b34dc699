import { ohms as ohmsWords } from '../plan/findings/words.ts';
import { sourceBegins } from '../procedure/source-name.ts';
import { boardOf, isLoose } from '../wiring/bench.ts';
import type { NodeId, Wiring } from '../wiring/wiring.ts';
import { terminalOf } from './as-it-is.ts';
import type { Difference } from './differences.ts';

/**
 * Where an end is, in words that go on from `is`.
 *
 * @example placeWords('b1:I7') // => 'on b1 I7'
 */
export function placeWords(node: NodeId): string {
  if (node.startsWith('unknown:')) return 'nobody knows where';
  if (isLoose(node)) return 'loose, on nothing';
  const rest = node.slice(node.indexOf(':') + 1);
  if (node.startsWith('old:')) return `under screw ${rest} of the old panel`;
  if (node.startsWith('join:')) return `in the splice ${rest}`;
  if (node.startsWith('joint:')) return `in the new splice ${rest}`;
  return boardOf(node) === null ? `at ${rest}` : `on ${terminalOf(node).replace(':', ' ')}`;
}

/** What is so, and what was planned: one sentence, without its end. */
export function sayDifference(difference: Difference, wiring: Wiring): string {
  return SAYS[difference.kind](difference, wiring);
}

const SAYS: Readonly<Record<Difference['kind'], (difference: Difference, wiring: Wiring) => string>> = {
  wire: ({ subject, planned, is }, { conductors }) => {
    const one = conductors.find(({ id }) => id === subject);
    const name = one ? `${one.colour} of ${one.cable} (${subject})` : subject;
    const was = `planned ${placeWords(planned ?? '')}`;
    return is?.startsWith('unknown:')
      ? `Where ${name} is, nobody can say; ${was}`
      : `${name} is ${placeWords(is ?? '')}; ${was}`;
  },
  resistor: ({ subject, planned, is }) => {
    if (is === 'unknown')
      return `Whether the resistor ${subject} is ${planned === null ? 'out' : 'in'}, nobody can say`;
    if (is === null) return `The resistor ${sayPart(planned)} is not fitted (${subject})`;
    if (planned === null) return `The resistor ${sayPart(is)} is still in (${subject}); it was to go`;
    return `The resistor ${subject} is ${sayPart(is)}; planned ${sayPart(planned)}`;
  },
  source: ({ subject, ...stands }) => standsWords(sourceBegins(subject), stands),
  other: ({ subject, ...stands }) => standsWords(subject === 'panel' ? 'The old panel' : subject, stands),
};

function standsWords(name: string, { is, planned }: Pick<Difference, 'is' | 'planned'>): string {
  return is === 'unknown'
    ? `${name}: whether it is ${planned}, nobody can say`
    : `${name} is ${is}; planned ${planned}`;
}

/** `2200 panel` as `of 2200 ohm at the panel`. */
function sayPart(stands: string | null): string {
  const [ohms, place] = (stands ?? '').split(' ');
  const where = place === 'unknown' ? ', wherever it sits' : ` at ${place === 'panel' ? 'the panel' : place}`;
  return `${ohms === 'unknown' ? 'of unknown value' : `of ${ohmsWords(Number(ohms))}`}${where}`;
}
