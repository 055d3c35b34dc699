import { printWritten } from '../../site/print-written.ts';
import { type App, type SurveyScreen, type Turn, withTop } from '../app/state.ts';
import { graphemes } from '../draw/line.ts';
import type { Key } from '../keys/key.ts';
import { interview } from './interview.ts';
import { type Answers, choice, type Question, settle } from './question.ts';

/** What is asked once every question of the survey is answered. */
export const FINISH: Question = choice(
  { id: 'finish', about: 'The survey is complete as far as it goes', asks: 'What now?' },
  ['open', 'save it, and open a job on it'],
  ['save', 'save it only'],
  ['look', 'go back through the answers'],
);

/** The question that has the keys: the one gone back to, else the first that has no answer. */
export function questionOf(screen: SurveyScreen): Question {
  const { asked, open } = interview(screen.answers);
  return asked.find((question) => question.id === screen.at) ?? open ?? FINISH;
}

/** The survey's file as far as the answers go. */
export function surveyText(answers: Answers): string {
  return printWritten(interview(answers).fields);
}

/** A key on the survey's screen; null where it has no use for it. A choice is made by its digit alone: nothing here is a gate. */
export function surveyKey(app: App, screen: SurveyScreen, key: Key): Turn | null {
  const question = questionOf(screen);
  const { typed } = screen;
  if (key.name === 'enter') return key.pasted ? [app, []] : answer(app, screen, question, typed);
  if ((key.name === 'left' || key.name === 'erase') && typed !== '') {
    return [withTop(app, { ...screen, typed: graphemes(typed).slice(0, -1).join(''), says: null }), []];
  }
  if (key.name === 'left' || key.name === 'up') return goBack(app, screen, question);
  if (key.name === 'down') return goForth(app, screen, question);
  if (key.name !== 'char') return null;
  if (question.kind !== 'choice')
    return [withTop(app, { ...screen, typed: typed + key.char, says: null }), []];
  const option = /^\d$/.test(key.char) ? numbered(question, typed + key.char) : undefined;
  if (option === 'more') return [withTop(app, { ...screen, typed: typed + key.char, says: null }), []];
  return option === undefined ? null : answer(app, screen, question, option);
}

// Ten options and more wait for a second digit where one could follow, or for Enter.
function numbered(question: Question, digits: string): string | 'more' | undefined {
  const count = question.options.length;
  if (count > 9 && digits.length === 1 && Number(digits) * 10 <= count && digits !== '0') return 'more';
  return question.options[Number(digits) - 1]?.id;
}

function answer(app: App, screen: SurveyScreen, question: Question, typed: string): Turn {
  const chosen =
    question.kind === 'choice' && /^\d+$/.test(typed)
      ? (question.options[Number(typed) - 1]?.id ?? typed)
      : typed;
  const held = screen.answers[question.id];
  const settled =
    chosen === '' && held !== undefined ? { ok: true as const, value: held } : settle(question, chosen);
  if (!settled.ok) return [withTop(app, { ...screen, says: settled.says }), []];
  if (question.id === FINISH.id) return finish(app, screen, settled.value);
  const answers = { ...screen.answers, [question.id]: settled.value };
  // Gone back to, the answer given before stands until another is given, and the next question follows.
  const { asked } = interview(answers);
  const place = screen.at === null ? -1 : asked.findIndex((one) => one.id === question.id);
  const at = place < 0 ? null : (asked[place + 1]?.id ?? null);
  const after: SurveyScreen = { ...screen, answers, typed: '', at, says: null };
  return [
    withTop({ ...app, notice: null }, after),
    [
      { do: 'keep-survey', answers },
      ...(endsZone(question) ? [{ do: 'check-survey' as const, text: surveyText(answers) }] : []),
    ],
  ];
}

// Findings are worked out again where a zone or the whole is complete, not at every letter.
function endsZone({ id }: Question): boolean {
  return /^z\d+\.name$|^sounder|^keypad|^board$/.test(id);
}

function finish(app: App, screen: SurveyScreen, what: string): Turn {
  if (what === 'look') {
    const { asked } = interview(screen.answers);
    return [withTop(app, { ...screen, at: asked[0]?.id ?? null, typed: '', says: null }), []];
  }
  const { answers } = screen;
  const save = { do: 'finish-survey', text: surveyText(answers), answers, open: what === 'open' } as const;
  return [withTop(app, { ...screen, typed: '' }), [save]];
}

function goBack(app: App, screen: SurveyScreen, question: Question): Turn {
  const { asked } = interview(screen.answers);
  const from = asked.findIndex((one) => one.id === question.id);
  const to = asked[(from < 0 ? asked.length : from) - 1];
  return [to ? withTop(app, { ...screen, at: to.id, typed: '', says: null }) : app, []];
}

function goForth(app: App, screen: SurveyScreen, question: Question): Turn {
  const { asked } = interview(screen.answers);
  const from = asked.findIndex((one) => one.id === question.id);
  if (from < 0) return [app, []];
  return [withTop(app, { ...screen, at: asked[from + 1]?.id ?? null, typed: '', says: null }), []];
}
