import type { Parsed } from '../../electrical/quantity.ts';
import { graphemes } from '../draw/line.ts';
import type { Key } from '../keys/key.ts';
import type { ScreenSettings } from '../settings.ts';
import { type Question, settle } from './question.ts';

/** What a key does to a question: more or less is typed, or what is typed is the answer. */
type Typing = { readonly typed: string; readonly isAnswer: boolean };

/** A key on a question; null where it has no use for it. A choice is made by its digit alone: nothing here is a gate. */
export function typingKey(question: Question, typed: string, key: Key): Typing | null {
  if (key.name === 'enter') return { typed, isAnswer: !key.pasted };
  if ((key.name === 'left' || key.name === 'erase') && typed !== '') {
    return { typed: graphemes(typed).slice(0, -1).join(''), isAnswer: false };
  }
  if (key.name !== 'char') return null;
  if (question.kind !== 'choice') return { typed: typed + key.char, isAnswer: false };
  const digits = typed + key.char;
  if (!/^\d{1,2}$/.test(digits)) return null;
  if (mayFollow(question, digits)) return { typed: digits, isAnswer: false };
  return question.options[Number(digits) - 1] ? { typed: digits, isAnswer: true } : null;
}

// Ten options and more wait for a second digit where one could follow, or for Enter.
function mayFollow({ options }: Question, digits: string): boolean {
  return digits.length === 1 && digits !== '0' && Number(digits) * 10 <= options.length;
}

/** What was typed as an answer: a digit is the option it stands for, nothing is what stood there before. */
export function settleTyped(
  question: Question,
  typed: string,
  held: string | undefined,
  units: ScreenSettings['units'],
): Parsed<string> {
  const isDigits = question.kind === 'choice' && /^\d+$/.test(typed);
  const chosen = isDigits ? (question.options[Number(typed) - 1]?.id ?? typed) : typed;
  return chosen === '' && held !== undefined ? { ok: true, value: held } : settle(question, chosen, units);
}
