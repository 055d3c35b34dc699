import type { Key } from '../keys/key.ts';
import { type Answer, BLANK, checkAnswer, textOf } from './answer.ts';
import { answerKey } from './answer-key.ts';
import { isFieldAsked } from './asked.ts';
import { sayAwaited } from './awaited.ts';
import type { Field } from './field.ts';

/** What is being answered: the fields, the answers so far and which field has the keys. */
export type Entry = {
  readonly fields: readonly Field[];
  readonly answers: readonly Answer[];
  readonly at: number;
  /** Why the last Enter was not taken. */
  readonly says: string | null;
  /** The field was gone back to: a figure typed there takes the place of the one that stands. */
  readonly isGoneTo?: boolean;
  /** Fields whose answer is kept from a try that failed, until each is confirmed again. */
  readonly kept: readonly string[];
};

/**
 * What became of a key. `complete`: the last field was answered. `unused`: the screen may use it.
 * `empty`: Enter with nothing answered, which never passes anything.
 */
type EntryOutcome = 'taken' | 'complete' | 'unused' | 'empty';

const IN_A_RUN = 'Keys came in a run, as if pasted. Press them one by one.';
const IN_HAND = '@in-hand';
const KEPT = '@kept';

/** An entry at the first field that is still owed, with what was saved of it. */
export function newEntry(fields: readonly Field[], saved: Readonly<Record<string, string>> = {}): Entry {
  const answers = fields.map((field) => restore(field, saved[field.id]));
  // What was half typed when a field before it came to be asked is no answer yet: it is confirmed, or typed anew.
  const kept = [...(saved[KEPT] ?? '').split(' '), saved[IN_HAND] ?? ''].filter((id) =>
    fields.some((field) => field.id === id),
  );
  const unanswered = fields.findIndex((_, index) => isOwedAt({ fields, answers, kept }, index));
  // What was half typed may look like an answer: the field that had the keys has them again.
  const inHand = fields.findIndex((field) => field.id === saved[IN_HAND]);
  const [at = Math.max(0, fields.length - 1)] = [unanswered, inHand]
    .filter((index) => index >= 0)
    .sort((a, b) => a - b);
  const inKeys = fields[at]?.id ?? '';
  return { fields, answers, at, says: null, kept: at === inHand ? without(kept, inKeys) : kept };
}

type Answered = Pick<Entry, 'fields' | 'answers'>;

/** Whether the answers so far ask for the field at this place; what is not asked is passed over and not shown. */
export function isAskedAt({ fields, answers }: Answered, index: number): boolean {
  return isFieldAsked(fields, index, (id) => {
    const at = fields.findIndex((field) => field.id === id);
    return at < 0 ? undefined : textOf(fields[at]!, answers[at]!);
  });
}

/** Why the field at this place cannot stand yet; null where it can, or is not asked for. */
function wrongAt(entry: Answered, index: number): string | null {
  return isAskedAt(entry, index) ? checkAnswer(entry.fields[index]!, entry.answers[index]!) : null;
}

/** Whether the field at this place is still to be answered, or its kept answer to be confirmed. */
function isOwedAt(entry: Answered & Pick<Entry, 'kept'>, index: number): boolean {
  if (wrongAt(entry, index) !== null) return true;
  return isAskedAt(entry, index) && entry.kept.includes(entry.fields[index]!.id);
}

function restore(field: Field, text: string | undefined): Answer {
  if (text === undefined || text === '') return BLANK;
  if (field.kind === 'choice') {
    const picked = field.options.findIndex((option) => option.id === text);
    return picked < 0 ? BLANK : { ...BLANK, picked };
  }
  return { ...BLANK, typed: text };
}

/** The answers by field, as far as they go: what is handed in. */
export function answersOf(entry: Entry): Record<string, string> {
  return Object.fromEntries(
    entry.fields.map((field, index) => [field.id, textOf(field, entry.answers[index]!)] as const),
  );
}

/** The answers with the field that has the keys: what a draft keeps. */
export function draftAnswers(entry: Entry): Record<string, string> {
  const field = entry.fields[entry.at];
  return {
    ...answersOf(entry),
    ...(field && isTouched(entry) && { [IN_HAND]: field.id }),
    ...(entry.kept.length > 0 && { [KEPT]: entry.kept.join(' ') }),
  };
}

/** Whether a draft holds an answer that was given since, and not only what a try that failed had right. */
export function isAnsweredAnew(draft: Readonly<Record<string, string>>): boolean {
  const kept = new Set((draft[KEPT] ?? '').split(' '));
  return Object.keys(draft).some((id) => id !== KEPT && !kept.has(id));
}

/** Answers of a try that failed, as a draft: each is confirmed again, or answered anew. */
export function asKept(answers: Readonly<Record<string, string>>): Record<string, string> {
  const ids = Object.keys(answers);
  return ids.length === 0 ? {} : { ...answers, [KEPT]: ids.join(' ') };
}

/** True where something was typed or picked in the field that has the keys. */
export function isTouched(entry: Entry): boolean {
  const answer = entry.answers[entry.at];
  return answer !== undefined && (answer.typed !== '' || answer.picked !== null);
}

/**
 * The entry after one key. Nothing is answered by default, and an Enter that came in a run of keys is
 * dropped: a pasted newline passes nothing.
 */
export function reduceEntry(entry: Entry, key: Key): readonly [Entry, EntryOutcome] {
  const field = entry.fields[entry.at];
  const answer = entry.answers[entry.at];
  if (!field || !answer) return [entry, 'unused'];
  // What follows a newline in a paste is another line, and no part of this answer.
  if (key.pasted && entry.says === IN_A_RUN) return [entry, 'taken'];
  if (key.pasted && (key.name === 'enter' || (field.kind === 'choice' && key.name === 'char'))) {
    return [{ ...entry, says: IN_A_RUN }, 'taken'];
  }
  if (key.name === 'enter' && answer.letters === null) return accept(entry, field, answer);
  // A kept answer is taken whole or given anew: nothing is added to it.
  const isKept = entry.kept.includes(field.id);
  const isReplaced = entry.isGoneTo === true && key.name === 'char' && isFigure(field);
  const isAnew =
    isReplaced || (isKept && (key.name === 'char' || key.name === 'erase' || key.name === 'left'));
  const changed = isAnew && key.name !== 'char' ? BLANK : answerKey(field, isAnew ? BLANK : answer, key);
  if (changed) {
    const answers = entry.answers.with(entry.at, changed);
    const kept = without(entry.kept, field.id);
    const taken = { ...entry, answers, says: null, kept, isGoneTo: false };
    // A number that no option has picks nothing, and that is said.
    const isHeard = field.kind !== 'choice' || changed.picked !== null;
    return [(isHeard ? null : sayAwaited(taken, key)) ?? taken, 'taken'];
  }
  const asked = entry.fields.flatMap((_, index) => (isAskedAt(entry, index) ? [index] : []));
  const above = asked.findLast((index) => index < entry.at);
  if (key.name === 'up' && above !== undefined)
    return [{ ...entry, at: above, says: null, isGoneTo: true }, 'taken'];
  const below = asked.find((index) => index > entry.at);
  if (key.name === 'down' && below !== undefined && checkAnswer(field, answer) === null) {
    return [{ ...entry, at: below, says: null, isGoneTo: true }, 'taken'];
  }
  return [entry, 'unused'];
}

function accept(entry: Entry, field: Field, answer: Answer): readonly [Entry, EntryOutcome] {
  const wrong = checkAnswer(field, answer);
  if (wrong !== null) return [{ ...entry, says: wrong }, isTouched(entry) ? 'taken' : 'empty'];
  const taken = { ...entry, says: null, kept: without(entry.kept, field.id), isGoneTo: false };
  const owed = entry.fields.flatMap((_, index) => (isOwedAt(taken, index) ? [index] : []));
  const next = owed.find((index) => index > entry.at) ?? owed[0];
  return next === undefined ? [taken, 'complete'] : [{ ...taken, at: next }, 'taken'];
}

function isFigure(field: Field): boolean {
  return field.kind === 'reading' || field.kind === 'count' || (field.kind === 'text' && field.numeric);
}

function without(kept: readonly string[], id: string): readonly string[] {
  return kept.includes(id) ? kept.filter((one) => one !== id) : kept;
}
