import { newEntry } from '../entry/state.ts';
import { FORMS, type FormId } from '../form/forms.ts';
import { openTour } from '../live/screen.ts';
import { draftOf } from './drafts.ts';
import { ALL_JOBS, type App, type LastWord, pop, push, type Screen, type Turn, top } from './state.ts';
import { stepInHand } from './step-in-hand.ts';

/** What a key or a line of a menu can ask for, on whatever screen. */
const COMMANDS = [
  'menu',
  'menu-help',
  'menu-stop',
  'menu-look',
  'menu-change',
  'far',
  'steps',
  'redo',
  'plan',
  'history',
  'help',
  'settings',
  'diagnose',
  'doubt',
  'back',
  'meter',
  'search',
  'debrief',
  'live',
  'tour',
  'hand-over',
  'chain',
  'quit',
  'jobs',
  'note',
  'photo',
  'pause',
  'leave',
  'away',
  'cannot',
  'deviate',
  'reopen',
  'correct',
  'found',
  'shift',
  'close',
  'carry-on',
  'survey-file',
  'live-source',
] as const;
export type Command = (typeof COMMANDS)[number];

/** Whether a word is a command that every screen understands. */
export function isCommand(text: string): text is Command {
  return (COMMANDS as readonly string[]).includes(text);
}

/** Does what a command asks. From a menu, the menu is gone afterwards. */
export function runCommand(app: App, command: Command): Turn {
  const base = top(app).kind === 'menu' && !command.startsWith('menu') ? closeMenus(app) : app;
  if (isForm(command)) return openForm(base, command);
  switch (command) {
    case 'menu':
    case 'menu-help':
    case 'menu-stop':
    case 'menu-look':
    case 'menu-change':
      return [push(base, { kind: 'menu', menu: command }), []];
    case 'far': {
      const step = stepInHand(base);
      return [step === null ? base : push(base, { kind: 'far', step }), []];
    }
    case 'steps':
      return [push(base, { kind: 'steps', at: 0, show: 'open' }), []];
    case 'redo':
      return [push(base, { kind: 'steps', at: null, show: 'done' }), []];
    case 'plan':
      return [base.job ? push(base, { kind: 'plan', part: 0, at: 0, opened: false }) : base, []];
    case 'history':
      return [base, base.job ? [{ do: 'history', filter: {} }] : []];
    case 'help':
      return [push(base, { kind: 'help', page: 0 }), []];
    case 'settings':
      return [push(base, { kind: 'settings' }), []];
    case 'diagnose': {
      const step = stepInHand(base);
      return [
        step === null
          ? base
          : push(base, { kind: 'diagnosis', step, causes: base.causes[step] ?? [], stands: false, page: 0 }),
        [],
      ];
    }
    case 'doubt':
      return lastWord(base, command, base.job !== null);
    case 'back':
      return [pop(app), []];
    case 'jobs':
      return lastWord(base, command, isDead(base));
    case 'meter': {
      const shown = base.stack.findLast((screen) => screen.kind === 'step');
      const field = shown?.entry.fields[shown.entry.at];
      const step = stepInHand(base);
      return [base, step !== null && field && base.job?.rehearsal ? [{ do: command, step, field }] : []];
    }
    case 'search': {
      const step = stepInHand(base);
      return [base, step !== null && base.job?.rehearsal ? [{ do: command, step }] : []];
    }
    case 'debrief':
      return [base, base.job?.rehearsal ? [{ do: 'debrief' }] : []];
    case 'live':
      return [push(base, { kind: 'live', page: 0 }), base.live ? [] : [{ do: 'live-look' }]];
    case 'tour':
      return openTour(base);
    case 'hand-over':
      return [base, base.job ? [{ do: 'hand-over', dir: base.job.dir }] : []];
    case 'chain':
      return [base, base.job ? [{ do: 'chain' }] : []];
    case 'quit':
      return lastWord(base, command, isDead(base));
  }
}

/** Asks once more where there is something to lose by it, and the same word again does it. */
export function lastWord(app: App, of: LastWord, isAsked: boolean): Turn {
  const shown = top(app);
  if (isAsked && !(shown.kind === 'sure' && shown.of === of)) return [push(app, { kind: 'sure', of }), []];
  return doLastWord(shown.kind === 'sure' ? pop(app) : app, of);
}

function doLastWord(app: App, of: LastWord): Turn {
  switch (of) {
    case 'doubt':
      return [app, app.job ? [{ do: 'act', action: { do: 'doubt' } }] : []];
    case 'jobs':
      return [app, [{ do: 'list-jobs', wanted: ALL_JOBS }]];
    case 'quit':
      return [{ ...app, exit: 0 }, []];
  }
}

function isDead(app: App): boolean {
  return app.job?.next.supply === 'dead';
}

function isForm(command: Command): command is Command & FormId {
  return command in FORMS;
}

/** Whether a form may be opened now: what a shut gate would refuse is not offered. */
export function formWorks(app: App, form: FormId): boolean {
  if (form === 'carry-on') return app.unsaved != null;
  if (form === 'survey-file') return true;
  return app.job !== null && (FORMS[form].works?.(app, stepInHand(app)) ?? true);
}

/** Puts a form on top, with what was kept of it; nothing happens where its gate is shut. */
export function openForm(app: App, form: FormId): Turn {
  const step = stepInHand(app);
  if (!formWorks(app, form)) return [app, []];
  const entry = newEntry(FORMS[form].fields(app, step), draftOf(app.drafts, form, step ?? ''));
  return [push(app, { kind: 'form', form, step, entry, preview: [], page: 0 }), []];
}

function closeMenus(app: App): App {
  const kept = app.stack.filter((screen: Screen) => screen.kind !== 'menu');
  return kept.length > 0 ? { ...app, stack: kept } : app;
}
