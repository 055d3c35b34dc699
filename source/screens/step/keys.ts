import type { Command } from '../app/commands.ts';
import { formWorks } from '../app/commands.ts';
import type { App, StepScreen } from '../app/state.ts';
import { isTouched } from '../entry/state.ts';
import type { KeyRow } from '../keys/table.ts';
import { DOUBT_KEY } from './state.ts';

export type StepSituation = { readonly app: App; readonly screen: StepScreen };
export type StepCommand =
  | Command
  | 'enter'
  | 'pick'
  | 'erase'
  | 'open-reading'
  | 'take-up'
  | 'look-back'
  | 'look-ahead'
  | 'stop-looking'
  | 'page-down'
  | 'page-up';

type Row = KeyRow<StepCommand, StepSituation>;

const works = {
  touched: ({ screen }: StepSituation) => screen.looking === null && isTouched(screen.entry),
  typed: (situation: StepSituation) => works.touched(situation) && !works.spelling(situation),
  spelling: ({ screen }: StepSituation) => screen.entry.answers[screen.entry.at]?.letters != null,
  untouched: ({ screen }: StepSituation) => screen.looking === null && !isTouched(screen.entry),
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
  /** Letters are words in a text, and shortcuts everywhere else. */
  letters: ({ screen }: StepSituation) =>
    screen.looking !== null ||
    (!isTouched(screen.entry) && screen.entry.fields[screen.entry.at]?.kind !== 'text'),
};

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

/** The keys of the step screen. Those of the entry are listed for foot and help; the entry handles them. */
export const STEP_KEYS: readonly Row[] = [
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
  {
    keys: ['enter'],
    does: 'take-up',
    says: 'work on it, where it is open',
    foot: true,
    works: works.looking,
  },
  { keys: ['right'], does: 'open-reading', says: 'OL, k, M', foot: true, works: works.ohms },
  { keys: ['left', 'erase'], does: 'erase', says: 'erase', foot: true, works: works.touched },
  { keys: ['left', 'tab'], does: 'menu', says: 'not sure, cannot, more', foot: true, works: works.untouched },
  { keys: ['tab'], does: 'menu', says: 'not sure, cannot, more', foot: false },
  {
    keys: ['escape', 'left'],
    does: 'stop-looking',
    says: 'back to the step in hand',
    foot: true,
    works: works.looking,
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
  { keys: ['b', 'up'], does: 'look-back', says: 'look back', foot: true, works: works.letters },
  { keys: ['a', 'down'], does: 'look-ahead', says: 'look ahead', foot: false, works: works.letters },
  letter('s', 'steps', 'all steps'),
  letter('p', 'plan', 'plan'),
  letter('h', 'history', 'history'),
  letter('w', 'away', 'away for a moment', false, ({ app }) => formWorks(app, 'away')),
  letter('v', 'deviate', 'deviate', false, ({ app }) => formWorks(app, 'deviate')),
  letter('r', 'reopen', 'reopen', false, ({ app }) => formWorks(app, 'reopen')),
  { keys: ['page-down'], does: 'page-down', says: 'next page', foot: false },
  { keys: ['page-up'], does: 'page-up', says: 'page before', foot: false },
  letter('?', 'help', 'all keys', true),
  letter('q', 'quit', 'leave the program', false),
  { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
];
