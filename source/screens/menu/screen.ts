import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import { type Command, formWorks, isCommand, runCommand } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { App, Screen } from '../app/state.ts';
import { EMPTY } from '../draw/line.ts';
import { FORMS, type FormId } from '../form/forms.ts';
import { workingRows } from '../keys/table.ts';
import { isRedone } from '../steps/screen.ts';

type Menu = {
  readonly title: string;
  readonly items: readonly { readonly does: Command; readonly says: string }[];
};

/** Everything there is, nine lines at most, so that one digit reaches it. */
const MENUS: Readonly<Record<string, Menu>> = {
  menu: {
    title: 'What now?',
    items: [
      { does: 'far', says: 'Far view: readable from across the room' },
      { does: 'menu-help', says: 'Not sure, or cannot' },
      { does: 'doubt', says: 'I doubt that it is dead' },
      { does: 'note', says: 'Note' },
      { does: 'photo', says: 'Photo' },
      { does: 'menu-stop', says: 'Stop for now: away, pause, night, somebody else' },
      { does: 'menu-look', says: 'Look: all steps, plan, history, all keys' },
      { does: 'menu-change', says: 'Change: deviate, correct the survey' },
      { does: 'redo', says: 'Read a step again that was done (reopen)' },
    ],
  },
  'menu-help': {
    title: 'Not sure, or cannot',
    items: [
      { does: 'meter', says: 'Rehearsal: what meter and eyes tell here' },
      { does: 'search', says: 'Rehearsal: go and look behind what does not fit' },
      { does: 'diagnose', says: 'What may be behind the last reading' },
      { does: 'cannot', says: 'This step cannot pass' },
      { does: 'note', says: 'Note what is odd' },
      { does: 'plan', says: 'Look at the plan' },
      { does: 'pause', says: 'Pause, and find out first' },
    ],
  },
  'menu-stop': {
    title: 'Stop for now',
    items: [
      { does: 'away', says: 'Away for a moment, and back soon' },
      { does: 'pause', says: 'Pause' },
      { does: 'leave', says: 'Leave for the night' },
      { does: 'shift', says: 'Somebody else is working' },
      { does: 'quit', says: 'Leave the program' },
    ],
  },
  'menu-look': {
    title: 'Look',
    items: [
      { does: 'steps', says: 'All steps, and go to an open one' },
      { does: 'plan', says: 'The plan' },
      { does: 'history', says: 'The record' },
      { does: 'live', says: 'The new board, live: listen, learn, tour of the detectors' },
      { does: 'debrief', says: 'Rehearsal: what was found where, and how long' },
      { does: 'settings', says: 'Colours and signs' },
      { does: 'jobs', says: 'The list of jobs' },
      { does: 'help', says: 'All keys' },
    ],
  },
  'menu-change': {
    title: 'Change',
    items: [
      { does: 'deviate', says: 'Deviate from this step' },
      { does: 'correct', says: 'Correct the survey' },
      { does: 'found', says: 'Correct the survey: a contact was found that it does not know' },
    ],
  },
};

const REHEARSED: ReadonlySet<Command> = new Set(['meter', 'search', 'debrief']);

/** The lines of a menu: the same in the whole job, so that a number always means the same. */
export function itemsOf(app: App, menu: string): Menu['items'] {
  return (MENUS[menu]?.items ?? []).filter(({ does }) => !REHEARSED.has(does) || app.job?.rehearsal === true);
}

/** Whether what a line says can be had now. */
function isNow(app: App, does: Command): boolean {
  if (does === 'doubt') return app.job?.next.supply === 'dead';
  if (does === 'redo') return app.job?.steps.some(({ id }) => isRedone(app.job?.status[id])) ?? false;
  return !(does in FORMS) || formWorks(app, does as FormId);
}

export const MENU: ScreenDef<Extract<Screen, { kind: 'menu' }>> = {
  keys: [
    { keys: ['1', '…', '9'], does: 'pick', says: 'pick', foot: true },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'enter', says: 'take', foot: true },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  picked: (app, _, value) => {
    if (!isCommand(value)) return [app, []];
    if (isNow(app, value)) return runCommand(app, value);
    return [{ ...app, notice: { tone: 'caution', says: 'That cannot be done now.', more: [] } }, []];
  },
  view: (app, screen, room) => ({
    head: jobHead(app, room),
    body: [[{ text: MENUS[screen.menu]?.title ?? '', bold: true }], EMPTY],
    control: {
      kind: 'list',
      id: screen.menu,
      items: itemsOf(app, screen.menu).map(({ does, says }) => ({
        value: does,
        label: isNow(app, does) ? says : `${says} (not now)`,
      })),
      initial: 0,
    },
    pinned: [],
    low: noticeLines(app, room),
    foot: foot(workingRows(MENU.keys, { app, screen }), room),
    page: 0,
  }),
};
