import { NO_SETUP } from '../../live/setup.ts';
import { editScreen } from '../edit/state.ts';
import type { Key } from '../keys/key.ts';
import { commandOf } from '../keys/table.ts';
import { type LiveState, ticksIn } from '../live/state.ts';
import { CARRY_ON_KEY, lostLines } from '../unsaved/lost.ts';
import { afterAct } from './after-act.ts';
import { isCommand, runCommand } from './commands.ts';
import { composeTop, tooSmall } from './composed.ts';
import { defOf } from './screens.ts';
import {
  ALL_JOBS,
  type App,
  type AppEvent,
  FIRST_SCREEN,
  type Notice,
  type OpenJob,
  pop,
  push,
  type Screen,
  type Turn,
  top,
  withTop,
} from './state.ts';

/** The whole of the screens: what is so, what happened -> what is so now, and what is to be done outside. */
export function reduce(app: App, event: AppEvent): Turn {
  const screen = top(app);
  switch (event.type) {
    case 'key':
      return pressed(app, event.key);
    case 'resized':
      return [{ ...app, size: { columns: event.columns, rows: event.rows } }, []];
    case 'picked':
      return defOf(screen).picked?.({ ...app, notice: null }, screen, event.value) ?? [app, []];
    case 'line':
      return defOf(screen).line?.(app, screen, event.value) ?? [app, []];
    case 'highlighted':
      if (screen.kind === 'jobs') return [withTop(app, { ...screen, highlighted: event.value }), []];
      return screen.kind === 'rehearse' && screen.chosen !== null
        ? [withTop(app, { ...screen, chosen: event.value }), []]
        : [app, []];
    case 'jobs':
      return [
        {
          ...app,
          jobs: event.jobs,
          surveys: event.surveys,
          job: null,
          stack: [FIRST_SCREEN],
        },
        [],
      ];
    case 'opened':
      return opened(app, event);
    case 'acted':
      return afterAct({ ...app, job: event.job }, event.action, event.acted);
    case 'history': {
      const at = Math.max(0, event.rows.length - 1);
      const shown = {
        kind: 'history',
        filter: event.filter,
        rows: event.rows,
        at,
        opened: false,
        page: 0,
        searching: null,
      } as const;
      return [screen.kind === 'history' ? withTop(app, shown) : push(app, shown), []];
    }
    case 'preview':
      return screen.kind === 'form'
        ? [withTop(app, { ...screen, preview: event.lines, page: 0 }), []]
        : [app, []];
    case 'survey':
      return [
        push(app, { kind: 'survey', answers: event.answers, at: null, typed: '', says: null, findings: [] }),
        [],
      ];
    case 'rehearse':
      return [push(app, event.screen), []];
    case 'editing':
      return [push({ ...app, notice: null }, editScreen(event.file, event.draft)), []];
    case 'checked':
      return screen.kind === 'survey' || screen.kind === 'edit'
        ? [withTop(app, { ...screen, findings: event.findings }), []]
        : [app, []];
    case 'survey-saved':
      return [
        {
          ...app,
          notice: { tone: 'good', says: `The survey is saved: ${event.file}`, more: savedBeside(event) },
        },
        [{ do: 'list-jobs', wanted: ALL_JOBS }],
      ];
    case 'form-done':
      return [screen.kind === 'form' ? pop(app) : app, []];
    case 'live':
      return heardNews(app, event.news);
    case 'told':
      return [{ ...app, notice: { tone: 'good', says: event.says, more: event.more } }, []];
    case 'trouble':
      return [{ ...app, notice: bad(event.says) }, []];
    case 'not-saved': {
      const { dir, action, offers } = event;
      return [{ ...app, unsaved: { dir, offers, lost: action ? lostLines(app, action) : [] } }, []];
    }
    case 'carried-on':
      return carriedOn(app, event.job);
  }
}

// An arrow held down comes in runs; of everything else a run was pasted, and orders nothing.
const MAY_RUN: ReadonlySet<Key['name']> = new Set([
  'up',
  'down',
  'left',
  'right',
  'page-up',
  'page-down',
  'erase',
]);

function pressed(app: App, key: Key): Turn {
  const screen = top(app);
  const isLeaving = key.name === 'ctrl' && key.char === 'c';
  if (tooSmall(app)) return [isLeaving ? { ...app, notice: null, exit: 0 } : app, []];
  if (isLeaving) return runCommand({ ...app, notice: null }, 'quit');
  if (key.char === CARRY_ON_KEY && !key.pasted && app.unsaved && !isCarryingOn(screen))
    return runCommand({ ...app, notice: null }, 'carry-on');
  const def = defOf(screen);
  const { turn } = composeTop(app);
  const taken = def.take?.(app, screen, key, turn);
  if (taken) return taken;
  if (key.pasted && !MAY_RUN.has(key.name)) return [app, []];
  const command = commandOf(def.keys, key, { app, screen, turn });
  if (command === null) return [app, []];
  // What was said stays while pages are turned: with it gone they would break elsewhere, and rows be passed over.
  const quiet = command.startsWith('page-') ? app : { ...app, notice: null };
  return (
    def.press?.(quiet, screen, command, turn) ?? (isCommand(command) ? runCommand(quiet, command) : [app, []])
  );
}

// There a plus may stand in the path that is typed.
function isCarryingOn(screen: Screen): boolean {
  return screen.kind === 'form' && screen.form === 'carry-on';
}

function opened(app: App, { job, briefing, draft }: Extract<AppEvent, { type: 'opened' }>): Turn {
  const under = app.stack.filter((screen) => screen.kind === 'jobs');
  const base: App = {
    ...app,
    job,
    causes: {},
    notice: null,
    unsaved: null,
    live: null,
    tour: null,
    stack: under,
  };
  if (job.next.closed) return [push(base, { kind: 'closed', page: 0 }), []];
  const shown = push(base, { kind: 'briefing', briefing, page: 0 });
  return [{ ...shown, drafts: draft?.answers ?? {} }, []];
}

function savedBeside({ before }: Extract<AppEvent, { type: 'survey-saved' }>): readonly string[] {
  return before === null ? [] : [`As it was before, it stands in ${before}`];
}

// What was typed is still in its card: one Enter records it in the new folder.
function carriedOn(app: App, job: OpenJob): Turn {
  const stack = app.stack.filter((screen) => screen.kind !== 'form' || screen.form !== 'carry-on');
  const says = `The job goes on in ${job.dir}. What was not saved is to be recorded again.`;
  return [{ ...app, job, stack, unsaved: null, notice: { tone: 'good', says, more: [] } }, []];
}

// Each detector that is ticked now and was not before rings once.
function heardNews(app: App, news: Partial<LiveState>): Turn {
  const live = { ...NO_LIVE, ...app.live, ...news };
  const next = { ...app, live };
  const isTicked = app.settings.bell === 'on' && ticksIn(next) > ticksIn(app);
  return [next, isTicked ? [{ do: 'bell' }] : []];
}

const NO_LIVE: LiveState = {
  setup: NO_SETUP,
  listening: false,
  heard: null,
  says: null,
  candidates: null,
  tapped: 0,
};

function bad(says: string): Notice {
  return { tone: 'bad', says, more: [] };
}
