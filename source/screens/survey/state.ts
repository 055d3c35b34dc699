import { printWritten } from '../../site/print-written.ts';
import { type App, type SurveyScreen, type Turn, withTop } from '../app/state.ts';
import type { Key } from '../keys/key.ts';
import { interview } from './interview.ts';
import { type Answers, choice, type Question } from './question.ts';
import { settleTyped, typingKey } from './typing.ts';

/** What is asked once every question of the survey is answered. */
const FINISH: Question = choice(
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
function surveyText(answers: Answers): string {
  return printWritten(interview(answers).fields);
}

/** A key on the survey's screen; null where it has no use for it. */
export function surveyKey(app: App, screen: SurveyScreen, key: Key): Turn | null {
  const question = questionOf(screen);
  const typing = typingKey(question, screen.typed, key);
  if (typing?.isAnswer) return answer(app, screen, question, typing.typed);
  if (typing) return [withTop(app, { ...screen, typed: typing.typed, says: null }), []];
  if (key.name === 'left' && isFirst(screen)) return null;
  if (key.name === 'left' || key.name === 'up') return goBack(app, screen, question);
  return key.name === 'down' ? goForth(app, screen, question) : null;
}

function answer(app: App, screen: SurveyScreen, question: Question, typed: string): Turn {
  const settled = settleTyped(question, typed, screen.answers[question.id], app.settings.units);
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
      ...(endsZone(question) ? [{ do: 'check-survey' as const, text: surveyText(answers), file: null }] : []),
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
  const name = answers['site.name'] ?? '';
  const save = { do: 'finish-survey', text: surveyText(answers), name, open: what === 'open' } as const;
  return [withTop(app, { ...screen, typed: '' }), [save]];
}

/** Whether no question comes before the one that has the keys. */
export function isFirst(screen: SurveyScreen): boolean {
  const [first] = interview(screen.answers).asked;
  return first === undefined || first.id === questionOf(screen).id;
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
