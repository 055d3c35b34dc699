import { settingsOf } from '../../handover/input-sheet.ts';
import { inputSheet } from '../../plan/input-sheet.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef, Situation } from '../app/screen-def.ts';
import { type App, push, type Screen, type Turn, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapMarked, wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { clockTime, deafLines } from './heard-lines.ts';
import { learnScreen } from './learn-screen.ts';
import { newTour } from './state.ts';

type LiveScreen = Extract<Screen, { kind: 'live' }>;

const isListening = ({ app }: Situation<LiveScreen>) => app.live?.listening === true;
const hasSource = ({ app }: Situation<LiveScreen>) => app.live?.setup.source != null;
const isPaged = ({ turn }: Situation<LiveScreen>) => (turn?.of ?? 1) > 1;

/** Hearing the boards of the job: whether it listens and to what, how each input stands, and what can be done about it. */
export const LIVE: ScreenDef<LiveScreen> = {
  keys: [
    {
      keys: ['1', 'enter'],
      does: 'listen',
      says: 'listen',
      foot: true,
      works: (s) => hasSource(s) && !isListening(s),
    },
    {
      keys: ['1', 's'],
      does: 'live-source',
      says: 'say where the board is heard',
      foot: true,
      works: (s) => !hasSource(s),
    },
    { keys: ['2', 't'], does: 'tour', says: 'tour of the detectors', foot: true, works: isListening },
    {
      keys: ['3', 'l'],
      does: 'learn',
      says: 'learn how it tells its inputs',
      foot: true,
      works: isListening,
    },
    { keys: ['4', 's'], does: 'live-source', says: 'another broker', foot: true, works: hasSource },
    { keys: ['5', 'e'], does: 'stop', says: 'end listening', foot: true, works: isListening },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['page-down'], does: 'page-down', says: 'next page', foot: false, works: isPaged },
    { keys: ['page-up'], does: 'page-up', says: 'page before', foot: false, works: isPaged },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, screen, command) => {
    switch (command) {
      case 'listen':
        return [app, app.job ? [{ do: 'listen', boards: boardsOf(app) }] : []];
      case 'stop':
        return [app, [{ do: 'stop-listening' }]];
      case 'learn':
        return startLearning(app);
      case 'page-down':
        return [withTop(app, { ...screen, page: screen.page + 1 }), []];
      case 'page-up':
        return [withTop(app, { ...screen, page: screen.page - 1 }), []];
      default:
        return null;
    }
  },
  view: (app, screen, room) => ({
    head: jobHead(app, room, 'the new board, live'),
    body: [...where(app, room), EMPTY, ...boards(app, room)],
    pinned: [],
    low: noticeLines(app, room),
    foot: foot(workingRows(LIVE.keys, { app, screen }), room, 2),
    page: screen.page,
  }),
};

/** Goes to the tour of the detectors that are open to be worked, or on with the one that was begun. */
export function openTour(app: App): Turn {
  if (!app.job) return [app, []];
  const tour = app.tour ?? newTour(app.job, app.live?.heard?.seq ?? 0);
  if (tour.stops.length === 0) {
    const says = 'No detector is open to be worked yet: the walk test comes after power and warm-up.';
    return [{ ...app, notice: { tone: 'caution', says, more: [] } }, []];
  }
  return [push({ ...app, tour }, { kind: 'tour', at: 0, asking: null }), []];
}

function startLearning(app: App): Turn {
  const board = app.job?.plan.boards.find(({ id }) => !app.live?.setup.boards[id]) ?? app.job?.plan.boards[0];
  if (!app.job || board === undefined) return [app, []];
  const screen = learnScreen(app.job, board.id);
  if (screen === null) {
    const says = 'Learning takes two inputs that something hangs on, and this board has fewer.';
    return [{ ...app, notice: { tone: 'caution', says, more: [] } }, []];
  }
  return [push(app, screen), [{ do: 'learn-hold', state: 'closed' }]];
}

function boardsOf({ job }: App) {
  return (job?.plan.boards ?? []).map(({ id, inputs }) => ({ id, inputs: inputs.map((input) => input.id) }));
}

function where({ live }: App, room: Room): readonly Line[] {
  const { glyphs, columns } = room;
  const paragraph = (text: string) => wrapText(text, columns).map((row): Line => [{ text: row }]);
  if (!live || live.setup.source === null)
    return paragraph(
      'Nobody has said where this board is heard. Nothing is connected before somebody does, and tells it to listen.',
    );
  const { source } = live.setup;
  const to = source.kind === 'mqtt' ? source.url : `POSTs to ${source.host}:${source.port}`;
  const says =
    live.says === null
      ? []
      : wrapMarked({ text: `${glyphs.failed} `, tone: 'bad', bold: true }, live.says, columns);
  if (!live.listening) return [[{ text: 'Not listening. ', bold: true }, { text: to }], ...says];
  const { heard } = live;
  if (heard === null) return [[{ text: `Calling ${to}`, bold: true }], ...says];
  const count = `${heard.messages} messages${heard.unread > 0 ? `, ${heard.unread} of them not understood` : ''}`;
  return [
    [
      {
        text: heard.hears ? `${glyphs.done} Listening to ` : `${glyphs.failed} Cannot hear `,
        tone: heard.hears ? 'good' : 'bad',
        bold: true,
      },
      { text: `${to}: ${count}` },
    ],
    ...deafLines(heard, room),
    ...says,
    ...strays(live, room),
  ];
}

// Messages that come and tell nothing are a mapping that does not fit.
function strays({ heard, setup }: NonNullable<App['live']>, room: Room): readonly Line[] {
  if (!heard) return [];
  const isDeafToAll = heard.unread > 4 && heard.inputs.size === 0;
  const isUnmapped = Object.keys(setup.boards).length === 0 && heard.hears && heard.inputs.size === 0;
  const says = isDeafToAll
    ? 'What comes there tells no state that this mapping knows. Learn it again, with one input held open and closed.'
    : isUnmapped
      ? 'How this board tells its inputs is not known, unless it follows the Homie convention. Learn it: two inputs, a minute.'
      : null;
  return says === null
    ? []
    : wrapMarked({ text: `${room.glyphs.caution} `, tone: 'caution', bold: true }, says, room.columns);
}

function boards({ job, live }: App, room: Room): readonly Line[] {
  if (!job) return [];
  return inputSheet(job.plan)
    .filter(({ name }) => name !== '')
    .flatMap((row) => {
      const stands = live?.heard?.inputs.get(`${row.board}/${row.input}`);
      const isAtRest = stands?.state === row.rest;
      const sign =
        stands === undefined ? room.glyphs.open : isAtRest ? room.glyphs.done : room.glyphs.caution;
      const now =
        stands === undefined
          ? 'not heard'
          : `${stands.state} ${stands.kept ? '(from earlier)' : clockTime(stands.atMilliseconds)}`;
      const tone =
        stands === undefined || stands.kept ? undefined : isAtRest ? ('good' as const) : ('caution' as const);
      return wrapMarked(
        {
          text: `${sign} ${`${row.board}/${row.input}`.padEnd(6)} ${now.padEnd(22)} `,
          ...(tone && { tone }),
        },
        `${row.name}${live?.listening ? '' : `: ${settingsOf(row)}`}`,
        room.columns,
      );
    });
}
