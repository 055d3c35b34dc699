import { ohms as ohmsWords } from '../plan/findings/words.ts';
import type { Act } from '../wiring/act.ts';
import { sourceName } from './source-name.ts';

/**
 * The name of an act within its card: what is done, and to what. Whoever answers the acts of a card one by one names
 * them so.
 *
 * @example actKey({ do: 'lift', conductor: 'c1/1', at: '5' }) // => 'lift c1/1'
 */
export function actKey(act: Act): string {
  const subject = subjectOf(act);
  return subject === '' ? act.do : `${act.do} ${subject}`;
}

function subjectOf(act: Act): string {
  if ('conductor' in act) return act.conductor;
  if (act.do === 'part') return act.join;
  if (act.do === 'fit-resistor') {
    if (act.circuit) return `${act.circuit.board}/${act.circuit.input}`;
    return act.contact ? `${act.detector}.${act.contact}` : (act.detector ?? act.zone);
  }
  if ('resistor' in act) return act.resistor;
  if (act.do === 'splice') return act.into;
  if (act.do === 'link') return `${act.board}:${act.terminals.join('-')}`;
  if ('board' in act && act.do === 'mount') return act.board;
  if ('source' in act) return act.source;
  return 'what' in act ? act.what : '';
}

/** An act as it is said to people, as something done: `c1/1 lifted off screw 5`. */
export function sayActDone(act: Act): string {
  return (SAYS[act.do] as (act: Act) => string)(act);
}

type Says = { readonly [D in Act['do']]: (act: Extract<Act, { do: D }>) => string };

const SAYS: Says = {
  lift: ({ conductor, at }) => `${conductor} lifted off screw ${at}`,
  part: ({ conductors }) => `${conductors.join(' and ')} parted`,
  cut: ({ conductor, at }) => `${conductor} cut at screw ${at}`,
  land: ({ conductor, at }) => `${conductor} landed on ${at}`,
  insulate: ({ conductor }) => `${conductor} insulated`,
  label: ({ conductor }) => `${conductor} labelled`,
  'remove-resistor': ({ zone }) => `the resistor of ${zone} taken out`,
  'fit-resistor': ({ ohms, zone, circuit, detector }) =>
    `${ohmsWords(ohms)} fitted for ${zone} at ${circuit ? `input ${circuit.input} of ${circuit.board}` : detector}`,
  splice: ({ into, from }) => `what was at ${from} joined at ${into}`,
  'set-jumper': ({ zone, ohms }) =>
    `the resistor jumper of ${zone} set to ${ohms === null ? 'none' : ohmsWords(ohms)}`,
  move: ({ conductor, to }) => `${conductor} moved to ${to}`,
  link: ({ board, terminals }) => `${terminals.join(', ')} of ${board} linked`,
  mount: ({ board }) => `${board} mounted`,
  work: ({ what }) => `${what} worked`,
  isolate: ({ source }) => `${sourceName(source)} taken off`,
  'connect-source': ({ source }) => `${sourceName(source)} connected`,
  remove: ({ what }) => `${what} taken away`,
  'open-enclosure': () => 'the enclosure opened',
};
