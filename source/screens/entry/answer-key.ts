import { graphemes } from '../draw/line.ts';
import type { Key } from '../keys/key.ts';
import { type Answer, BLANK } from './answer.ts';
import type { ChoiceField, Field, ReadingField, TextField } from './field.ts';
import { LETTER_COLUMNS, LETTERS, moveLetter } from './letters.ts';

const LONGEST = 400;

/** The answer after one key; null where the field has no use for it. */
export function answerKey(field: Field, answer: Answer, key: Key): Answer | null {
  switch (field.kind) {
    case 'choice':
      return choiceKey(field, answer, key);
    case 'reading':
      return readingKey(field, answer, key);
    case 'count':
      return key.name === 'char' && !/^\d$/.test(key.char) ? null : typedKey(answer, key);
    case 'text':
      return textKey(field, answer, key);
  }
}

// A digit says which: never the highlighted one by Enter alone, and never a digit that came in a run.
function choiceKey(field: ChoiceField, answer: Answer, key: Key): Answer | null {
  const count = field.options.length;
  const picked = answer.picked;
  if (key.name === 'down') return { ...BLANK, picked: Math.min(count - 1, (picked ?? -1) + 1) };
  if (key.name === 'up' && picked !== null && picked > 0) return { ...BLANK, picked: picked - 1 };
  if ((key.name === 'left' || key.name === 'erase') && (picked !== null || answer.typed !== '')) return BLANK;
  if (key.name !== 'char' || !/^\d$/.test(key.char) || (key.pasted && count <= 9)) return null;
  const typed = count <= 9 ? key.char : `${answer.typed}${key.char}`.slice(-String(count).length);
  const number = Number(typed);
  return number >= 1 && number <= count
    ? { ...BLANK, typed, picked: number - 1 }
    : count > 9
      ? { ...BLANK, typed: key.char, picked: inRange(Number(key.char), count) }
      : BLANK;
}

function inRange(number: number, count: number): number | null {
  return number >= 1 && number <= count ? number - 1 : null;
}

// Right, or the stroke of a numeric keypad, stands in for the letters that keypad lacks: OL, and the prefixes k and M.
const NEXT_PREFIX: Readonly<Record<string, string>> = { '': 'k', k: 'M', M: '' };

const OPEN = 'OL';

function readingKey(field: ReadingField, answer: Answer, key: Key): Answer | null {
  const { typed } = answer;
  const isLetters = key.name === 'right' || (key.name === 'char' && key.char === '/');
  // An open circuit is one word: typed by its letters or the arrow, and erased whole.
  if (typed === OPEN) {
    if (isLetters || key.name === 'left' || key.name === 'erase') return BLANK;
    if (key.name === 'char') return answer;
  }
  if (isLetters && typed === '' && showsOverRange(field)) return { ...BLANK, typed: OPEN };
  if (isLetters && field.quantity === 'ohms') {
    const prefix = /[kM]$/.exec(typed)?.[0] ?? '';
    return { ...BLANK, typed: typed.replace(/[kM]$/, '') + NEXT_PREFIX[prefix] };
  }
  if (key.name === 'char' && typed === '') {
    if (/^[oO]$/.test(key.char) && showsOverRange(field)) return { ...BLANK, typed: OPEN };
    return /^[\d.,\-+−∞]$/.test(key.char) ? typedKey(answer, key) : null;
  }
  // Only what units are written with: anything else would be a slip of a thick glove.
  if (key.name === 'char' && !/^[\d.,\-+−∞kKmMrRoOhHlLgGeEvVaAuµΩ ]$/.test(key.char)) return null;
  return typedKey(answer, key);
}

/** In ohms it is an open circuit, in volts more than the range shows; in amps it is no figure. */
const showsOverRange = ({ quantity }: ReadingField) => quantity !== 'amps';

function textKey(field: TextField, answer: Answer, key: Key): Answer | null {
  if (answer.letters !== null) return letterKey(answer, key, answer.letters);
  const picking = field.offers.length > 0 && answer.typed === '';
  if (picking && key.name === 'char' && /^[1-9]$/.test(key.char) && !field.numeric) {
    const number = Number(key.char);
    if (number <= field.offers.length) return { ...BLANK, picked: number - 1 };
    return number === field.offers.length + 1 ? { ...BLANK, letters: 0 } : null;
  }
  if (picking && key.name === 'down') {
    const next = (answer.picked ?? -1) + 1;
    if (next < field.offers.length) return { ...BLANK, picked: next };
    return field.numeric ? answer : { ...BLANK, letters: 0 };
  }
  if (picking && key.name === 'up' && answer.picked !== null && answer.picked > 0) {
    return { ...BLANK, picked: answer.picked - 1 };
  }
  if ((key.name === 'left' || key.name === 'erase') && answer.picked !== null) return BLANK;
  if (key.name === 'down' && field.offers.length === 0 && !field.numeric) return { ...answer, letters: 0 };
  if (key.name === 'down' && answer.typed !== '' && !field.numeric) return { ...answer, letters: 0 };
  return typedKey({ ...answer, picked: null }, key);
}

// In the letter picker arrows move and Enter takes the letter under the mark; a typed letter leaves it.
function letterKey(answer: Answer, key: Key, at: number): Answer | null {
  if (key.name === 'enter') {
    const letter = LETTERS[at]!;
    if (letter === 'end') return { ...answer, letters: null };
    if (letter === 'back') return { ...answer, typed: graphemes(answer.typed).slice(0, -1).join('') };
    return { ...answer, typed: `${answer.typed}${letter === 'space' ? ' ' : letter}`.slice(0, LONGEST) };
  }
  if (key.name === 'escape') return { ...answer, letters: null };
  if (key.name === 'up' && at < LETTER_COLUMNS) return { ...answer, letters: null };
  const moved = moveLetter(at, key.name);
  if (moved !== null) return { ...answer, letters: moved };
  const typed = typedKey(answer, key);
  return typed && { ...typed, letters: /^\d$/.test(key.char) ? at : null };
}

function typedKey(answer: Answer, key: Key): Answer | null {
  if (key.name === 'char' && answer.typed.length < LONGEST) {
    return { ...BLANK, letters: answer.letters, typed: answer.typed + key.char };
  }
  if ((key.name === 'left' || key.name === 'erase') && answer.typed !== '') {
    return { ...BLANK, typed: graphemes(answer.typed).slice(0, -1).join('') };
  }
  if (key.name === 'ctrl' && key.char === 'u' && answer.typed !== '') return BLANK;
  return null;
}
