import type { Command } from '../app/commands.ts';
import { formWorks } from '../app/commands.ts';
import type { Situation } from '../app/screen-def.ts';
import type { StepScreen } from '../app/state.ts';
import { isTouched } from '../entry/state.ts';
import type { KeyRow } from '../keys/table.ts';
import { proposalsFor } from '../live/state.ts';
import { CARRY_ON_ROW } from '../unsaved/lost.ts';
import { besideStep, DOUBT_KEY, nextOpen } from './state.ts';

type StepSituation = Situation<StepScreen>;
type StepCommand =
  | Command
  | 'enter'
  | 'pick'
  | 'erase'
  | 'open-reading'
  | 'take-up'
  | 'look-back'
  | 'look-ahead'
  | 'stop-looking'
  | 'home'
  | 'page-down'
  | 'page-up';

type Row = KeyRow<StepCommand, StepSituation>;

const works = {
  touched: ({ screen }: StepSituation) => screen.looking === null && isTouched(screen.entry),
  typed: (situation: StepSituation) => works.touched(situation) && !works.spelling(situation),
  spelling: ({ screen }: StepSituation) => screen.entry.answers[screen.entry.at]?.letters != null,
  untouched: ({ screen }: StepSituation) => screen.looking === null && !isTouched(screen.entry),
  heard: (situation: StepSituation) => works.untouched(situation) && isHeard(situation),
  here: ({ screen }: StepSituation) => screen.looking === null,
  looking: ({ screen }: StepSituation) => screen.looking !== null,
  choosing: ({ screen }: StepSituation) => {
    const field = screen.entry.fields[screen.entry.at];
    return (
      screen.looking === null &&
      (field?.kind === 'choice' || (field?.kind === 'text' && field.offers.length > 0 && !field.numeric))
    );
  },
  ohms: ({ screen }: StepSituation) => {
    const field = screen.entry.fields[screen.entry.at];
    return screen.looking === null && field?.kind === 'reading' && field.quantity === 'ohms';
  },
  paged: ({ turn }: StepSituation) => (turn?.of ?? 1) > 1,
  /** Letters are words in a text, and shortcuts everywhere else. */
  letters: ({ screen }: StepSituation) =>
    screen.looking !== null ||
    (!isTouched(screen.entry) && screen.entry.fields[screen.entry.at]?.kind !== 'text'),
};

// What stands above the answers as heard is taken with one key.
function isHeard({ app, screen }: StepSituation): boolean {
  const proofs = app.job?.next.open.find(({ id }) => id === screen.step)?.proof ?? [];
  const field = screen.entry.fields[screen.entry.at]?.id ?? '';
  return (proposalsFor(app, proofs, screen.heardFrom).get(field)?.answer ?? null) !== null;
}

const letter = (
  key: string,
  does: Command,
  says: string,
  foot = false,
  also?: (s: StepSituation) => boolean,
): Row => ({
  keys: [key],
  does,
  says,
  foot,
  works: (situation) => works.letters(situation) && (also?.(situation) ?? true),
});

const isAgreeing = ({ app, screen }: StepSituation) =>
  app.job?.next.open.find(({ id }) => id === screen.step)?.stage === 'plan';

/** The keys of the step screen. Those of the entry are listed for foot and help; the entry handles them. */
export const STEP_KEYS: readonly Row[] = [
  CARRY_ON_ROW,
  { keys: ['1', '…', '9'], does: 'pick', says: 'pick', foot: true, works: works.choosing },
  {
    keys: ['enter', '1'],
    does: 'close',
    says: 'close the job',
    foot: true,
    works: ({ app, screen }) => screen.step === null && screen.looking === null && formWorks(app, 'close'),
  },
  { keys: ['enter'], does: 'enter', says: 'take the letter', foot: true, works: works.spelling },
  { keys: ['enter'], does: 'enter', says: 'record', foot: true, works: works.typed },
  { keys: ['enter'], does: 'enter', says: 'take what was heard', foot: true, works: works.heard },
  {
    keys: ['enter'],
    does: 'take-up',
    says: 'work on it',
    foot: true,
    works: works.looking,
  },
  {
    keys: ['enter'],
    does: 'enter',
    says: 'next page, while nothing is typed',
    foot: false,
    works: (situation) => works.untouched(situation) && works.paged(situation),
  },
  { keys: ['right', '/'], does: 'open-reading', says: 'OL, k, M', foot: true, works: works.ohms },
  { keys: ['left', 'erase'], does: 'erase', says: 'erase', foot: true, works: works.touched },
  { keys: ['left', 'tab'], does: 'menu', says: 'not sure, cannot, more', foot: true, works: works.untouched },
  { keys: ['tab'], does: 'menu', says: 'not sure, cannot, more', foot: true, works: works.touched },
  { keys: ['tab'], does: 'menu', says: 'not sure, cannot, more', foot: false },
  {
    keys: ['escape', 'left'],
    does: 'stop-looking',
    says: 'back to the step in hand',
    foot: true,
    works: works.looking,
  },
  {
    keys: ['escape'],
    does: 'home',
    says: 'to the step that is next',
    foot: true,
    works: ({ app, screen }) => {
      const first = app.job && screen.looking === null ? nextOpen(app.job) : null;
      return first !== null && first.id !== screen.step;
    },
  },
  letter('f', 'far', 'far view', true),
  {
    keys: [DOUBT_KEY],
    does: 'doubt',
    says: 'doubt that it is dead',
    foot: true,
    works: ({ app }) => app.job?.next.supply === 'dead',
  },
  letter('d', 'doubt', 'doubt that it is dead', false, ({ app }) => app.job?.next.supply === 'dead'),
  letter('m', 'meter', 'rehearsal: what the meter shows', true, ({ app }) => app.job?.rehearsal === true),
  letter('n', 'note', 'note'),
  letter('c', 'cannot', 'cannot'),
  letter('x', 'diagnose', 'what may be behind it', false),
  {
    keys: ['b', 'up'],
    does: 'look-back',
    says: 'look back',
    foot: true,
    works: (situation) =>
      works.letters(situation) && besideStep(situation.app, situation.screen, -1) !== null,
  },
  {
    keys: ['a', 'down'],
    does: 'look-ahead',
    says: 'look ahead',
    foot: true,
    works: (situation) => works.looking(situation) && besideStep(situation.app, situation.screen, 1) !== null,
  },
  {
    keys: ['a'],
    does: 'look-ahead',
    says: 'look ahead',
    foot: false,
    works: (situation) =>
      works.here(situation) &&
      works.letters(situation) &&
      besideStep(situation.app, situation.screen, 1) !== null,
  },
  letter('l', 'live', 'hear the new board'),
  letter('t', 'tour', 'tour of the detectors', false, ({ app }) => app.live?.listening === true),
  letter('s', 'steps', 'all steps'),
  letter('p', 'plan', 'open the plan', true, isAgreeing),
  letter('p', 'plan', 'plan'),
  letter('h', 'history', 'history'),
  letter('w', 'away', 'away for a moment', false, ({ app }) => formWorks(app, 'away')),
  letter('v', 'deviate', 'deviate', false, ({ app }) => formWorks(app, 'deviate')),
  letter(
    'r',
    'reopen',
    'read it again (reopen)',
    true,
    (s) => works.looking(s) && formWorks(s.app, 'reopen'),
  ),
  letter('r', 'redo', 'read again a step that was done', false, works.here),
  { keys: ['page-down'], does: 'page-down', says: 'next page', foot: false, works: works.paged },
  { keys: ['page-up'], does: 'page-up', says: 'page before', foot: false, works: works.paged },
  letter('?', 'help', 'all keys', true),
  letter('q', 'quit', 'leave the program, asked once more', false),
  { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
];
