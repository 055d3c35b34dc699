import type { StepStatus } from '../../procedure/state.ts';
import type { Step } from '../../procedure/step.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import { openForm } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, type OpenJob, pop, type StepsScreen, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { windowed } from '../draw/windowed.ts';
import { wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { goToStep } from '../step/state.ts';
import { STAGE_WORDS, STATUS_WORDS } from '../words.ts';

function listed(job: OpenJob, show: StepsScreen['show']): readonly Step[] {
  if (show === 'open') return job.steps.filter((step) => job.next.open.some((open) => open.id === step.id));
  if (show === 'done') return job.steps.filter((step) => isRedone(job.status[step.id]));
  return job.steps.filter((step) => job.status[step.id] !== 'excluded');
}

/** Whether a step that stands so can be done again by reopening it. */
export function isRedone(status: StepStatus | undefined): boolean {
  return status === 'done' || status === 'deviated';
}

/** The row in hand: the last step that was done is the one most likely to be done again. */
function rowAt(app: App, { at, show }: StepsScreen): number {
  return at ?? Math.max(0, (app.job ? listed(app.job, show).length : 0) - 1);
}

const chooses = ({ screen }: { screen: StepsScreen }) => screen.show === 'done';
const browses = ({ screen }: { screen: StepsScreen }) => screen.show !== 'done';

/** All steps, or the open ones; Enter goes to one to work on it or to look at it. */
export const STEPS: ScreenDef<StepsScreen> = {
  keys: [
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'go', says: 'go there', foot: true, works: browses },
    { keys: ['enter'], does: 'go', says: 'read it again', foot: true, works: chooses },
    { keys: ['right', 'a'], does: 'show', says: 'all, or only the open ones', foot: true, works: browses },
    { keys: ['page-up', 'page-down'], does: 'page', says: 'by pages', foot: false },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key) => {
    const count = app.job ? listed(app.job, screen.show).length : 0;
    const page = Math.max(1, app.size.rows - 8);
    const by = { up: -1, down: 1, 'page-up': -page, 'page-down': page, home: -count, end: count }[
      key.name as string
    ];
    if (by === undefined) return null;
    const at = Math.min(Math.max(0, count - 1), Math.max(0, rowAt(app, screen) + by));
    return [withTop(app, { ...screen, at }), []];
  },
  press: (app, screen, command) => {
    if (command === 'show')
      return [withTop(app, { kind: 'steps', at: 0, show: screen.show === 'open' ? 'all' : 'open' }), []];
    if (command !== 'go' || !app.job) return null;
    const step = listed(app.job, screen.show)[rowAt(app, screen)];
    if (!step) return [app, []];
    if (screen.show === 'done') return openForm(lookAt(pop(app), step.id), 'reopen');
    if (app.job.next.open.some((open) => open.id === step.id)) return goToStep(app, step.id);
    return [lookAt(pop(app), step.id), []];
  },
  view: (app, screen, room) => {
    const steps = app.job ? listed(app.job, screen.show) : [];
    const open = app.job?.next.open.length ?? 0;
    const at = rowAt(app, screen);
    const here = steps[at];
    const titles = {
      open: `Steps: ${open} open`,
      all: `Steps: all ${steps.length} steps`,
      done: 'Which step is to be read, or done, again?',
    };
    const body = app.job
      ? windowed(
          steps.map((step, index) => row(app.job!, step, index === at, room)),
          at,
          room.rows - 10,
        )
      : [];
    return {
      head: jobHead(app, room),
      body: [[{ text: titles[screen.show], bold: true }], ...body],
      pinned: here ? [EMPTY, ...wrapped(here.title, room.columns, { bold: true })] : [],
      low: noticeLines(app, room),
      foot: foot(workingRows(STEPS.keys, { app, screen }), room),
      page: 0,
    };
  },
};

function row(job: OpenJob, step: Step, here: boolean, room: Room): Line {
  const words = STATUS_WORDS[job.status[step.id] ?? 'open'];
  const isOpen = job.next.open.some((open) => open.id === step.id);
  const locked = !isOpen && words.says === 'open';
  return [
    here ? { text: `${room.glyphs.pointer} `, tone: 'focus', bold: true } : { text: '  ' },
    {
      text: `${locked ? room.glyphs.locked : room.glyphs[words.sign]} `,
      ...(words.tone && { tone: words.tone }),
    },
    { text: step.title, bold: here },
    { text: `  ${locked ? 'locked' : words.says}, ${STAGE_WORDS[step.stage]}`, tone: 'quiet' },
  ];
}

function lookAt(app: App, step: string): App {
  const lowest = app.stack.findLastIndex((screen) => screen.kind === 'step');
  const screen = app.stack[lowest];
  if (screen?.kind !== 'step') return app;
  const looking = screen.step === step ? null : step;
  return { ...app, stack: [...app.stack.slice(0, lowest), { ...screen, looking, page: 0 }] };
}
