import { windowWords } from '../draw/scale.ts';
import type { Answer } from '../entry/answer.ts';
import { BLANK, checkAnswer, textOf } from '../entry/answer.ts';
import type { Field } from '../entry/field.ts';
import { newEntry } from '../entry/state.ts';
import { figureAt, windowsOf } from '../entry/verdict.ts';

/** Where lines come from and go to. `null`: there are no more. */
export type Dialogue = {
  say(line: string): void;
  hear(): Promise<string | null>;
};

/** What was answered to a field, or a word that begins with a stroke, or the end of the lines. */
type Heard =
  | { readonly is: 'answer'; readonly text: string }
  | { readonly is: 'word'; readonly word: string; readonly rest: string }
  | { readonly is: 'end' };

/** The card that a field is on: all its fields, and what was answered to those before it. */
type OnCard = { readonly fields: readonly Field[]; readonly answers: Readonly<Record<string, string>> };

/** Asks until the answer can stand. An empty line answers nothing and is asked again. */
export async function ask(
  field: Field,
  dialogue: Dialogue,
  card: OnCard = { fields: [field], answers: {} },
): Promise<Heard> {
  for (const line of question(field)) dialogue.say(line);
  for (;;) {
    const line = await dialogue.hear();
    if (line === null) return { is: 'end' };
    const typed = line.trim();
    const word = /^\/(\S+)\s*(.*)$/.exec(typed);
    if (word) return { is: 'word', word: word[1]!.toLowerCase(), rest: word[2]! };
    const answer = answerOf(field, typed);
    const wrong = checkAnswer(field, answer);
    if (wrong === null) {
      for (const told of echo(field, answer, card)) dialogue.say(told);
      return { is: 'answer', text: textOf(field, answer) };
    }
    dialogue.say(wrong);
  }
}

function question(field: Field): readonly string[] {
  const windows = field.kind === 'reading' ? windowsOf(field) : null;
  const options =
    field.kind === 'choice'
      ? field.options.map((option) => option.label)
      : field.kind === 'text' && !field.numeric
        ? field.offers
        : [];
  const unit = field.kind === 'reading' ? ` (in ${field.unit})` : '';
  return [
    `? ${field.label}${unit}`,
    ...(windows ? [`  ${windowWords(windows)}`] : []),
    ...options.map((label, index) => `  ${index + 1} ${label}`),
  ];
}

// A number says which; for a choice its id does as well, for a text the words themselves.
function answerOf(field: Field, typed: string): Answer {
  const number = /^\d+$/.test(typed) ? Number(typed) - 1 : -1;
  if (field.kind === 'choice') {
    const byId = field.options.findIndex((option) => option.id === typed);
    const picked = byId >= 0 ? byId : number;
    return picked >= 0 && picked < field.options.length ? { ...BLANK, picked } : BLANK;
  }
  if (field.kind === 'text' && !field.numeric && number >= 0 && number < field.offers.length) {
    return { ...BLANK, picked: number };
  }
  return { ...BLANK, typed };
}

function echo(field: Field, answer: Answer, { fields, answers }: OnCard): readonly string[] {
  const entry = newEntry(fields, { ...answers, [field.id]: textOf(field, answer) });
  const read = figureAt(entry, fields.indexOf(field));
  if (read !== null) return [`  Judged: ${read.look.says}.`];
  if (field.kind === 'choice') return [`  ${field.options[answer.picked ?? 0]?.label ?? ''}`];
  return [];
}
