import { graphemes } from '../draw/line.ts';

export type KeyName =
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'page-up'
  | 'page-down'
  | 'home'
  | 'end'
  | 'enter'
  | 'escape'
  | 'tab'
  | 'erase'
  | 'ctrl'
  | 'char';

/** One key as pressed. `pasted`: it came with others in one chunk, so nobody may have meant it. */
export type Key = { readonly name: KeyName; readonly char: string; readonly pasted: boolean };

/** What Ink tells of a chunk of input, as far as it is needed here. */
type InkKey = Readonly<
  Partial<
    Record<
      | 'upArrow'
      | 'downArrow'
      | 'leftArrow'
      | 'rightArrow'
      | 'pageUp'
      | 'pageDown'
      | 'home'
      | 'end'
      | 'return'
      | 'escape'
      | 'tab'
      | 'backspace'
      | 'delete'
      | 'ctrl',
      boolean
    >
  >
>;

const FLAGS: readonly (readonly [keyof InkKey, KeyName])[] = [
  ['upArrow', 'up'],
  ['downArrow', 'down'],
  ['leftArrow', 'left'],
  ['rightArrow', 'right'],
  ['pageUp', 'page-up'],
  ['pageDown', 'page-down'],
  ['home', 'home'],
  ['end', 'end'],
  ['return', 'enter'],
  ['escape', 'escape'],
  ['tab', 'tab'],
  // Ink 6 tells Backspace and Delete apart the wrong way round on most terminals: both erase.
  ['backspace', 'erase'],
  ['delete', 'erase'],
];

const SEQUENCES: Readonly<Record<string, KeyName>> = {
  A: 'up',
  B: 'down',
  C: 'right',
  D: 'left',
  H: 'home',
  F: 'end',
  '5~': 'page-up',
  '6~': 'page-down',
  '3~': 'erase',
};

// An arrow whose Escape came in a chunk of its own (a slow line) arrives as text: never typed by hand.
const FRAGMENT = /^[[O][\d;]*[A-Z~]$/;
const TOKEN = /\x1b[[O]([\d;]*[A-Za-z~])|\x1b|[^\x1b]+/g;
// Controls, and the marks that turn the direction of writing: they would disguise what is on the screen.
const UNSAFE = /[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]/;

/**
 * The keys in one chunk of input. Ink hands over a chunk as one event, so a held or pasted run arrives
 * together: it is taken apart here, and each key of such a run is marked as pasted.
 *
 * @example keysOf('y\r', {}).map((key) => key.name) // => ['char', 'enter']
 */
export function keysOf(input: string, ink: InkKey): readonly Key[] {
  if (ink.ctrl && /^[a-z]$/.test(input)) return [{ name: 'ctrl', char: input, pasted: false }];
  const flag = FLAGS.find(([name]) => ink[name]);
  if (flag) return [{ name: flag[1], char: '', pasted: false }];
  if (FRAGMENT.test(input)) return [];
  // Ink strips the first Escape of a chunk: a run of arrows begins with its rest.
  const chunk = /^[[O][\d;]*[A-Z~]\x1b/.test(input) ? `\x1b${input}` : input;
  const names = [...chunk.matchAll(TOKEN)].flatMap(([token, sequence]) =>
    sequence === undefined ? graphemes(token).flatMap(signKey) : sequenceKey(sequence),
  );
  const pasted = names.length > 1;
  return names.map(([name, char]) => ({ name, char, pasted }));
}

type Named = readonly [KeyName, string];

function sequenceKey(sequence: string): readonly Named[] {
  const name = SEQUENCES[sequence];
  return name ? [[name, '']] : [];
}

function signKey(sign: string): readonly Named[] {
  if (/^[\r\n]+$/.test(sign)) return [['enter', '']];
  if (sign === '\x7f' || sign === '\b') return [['erase', '']];
  if (sign === '\t') return [['tab', '']];
  return UNSAFE.test(sign) ? [] : [['char', sign]];
}

/** A text without controls and marks of direction, for whatever comes from outside. */
export function safeText(text: string): string {
  return graphemes(text)
    .filter((part) => !UNSAFE.test(part))
    .join('');
}
