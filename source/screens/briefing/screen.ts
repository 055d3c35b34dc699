import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, pop, type Screen, withTop } from '../app/state.ts';
import type { PageTurn, Room } from '../draw/frame.ts';
import { EMPTY, type Line, type Span } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { goToStep, stepToGoOn } from '../step/state.ts';
import { SUPPLY_WORDS } from '../words.ts';

type BriefingScreen = Extract<Screen, { kind: 'briefing' }>;

const isNobody = ({ app }: { app: App }) => app.job?.next.person === null;
const isPaged = ({ turn }: { turn?: PageTurn }) => (turn?.of ?? 1) > 1;
const isSomebody = (situation: { app: App }) => !isNobody(situation);

/** Coming back to a job: what has to be known before the first step, in that order. */
export const BRIEFING: ScreenDef<BriefingScreen> = {
  keys: [
    {
      keys: ['1', 'enter'],
      does: 'shift',
      says: 'say who is working',
      foot: true,
      works: isNobody,
    },
    // Who works is said, never taken for granted: whoever comes back may be somebody else.
    { keys: ['1'], does: 'go', says: 'it is the same person', foot: true, works: isSomebody },
    { keys: ['2'], does: 'shift', says: 'it is somebody else', foot: true, works: isSomebody },
    {
      keys: ['enter'],
      does: 'which',
      says: 'take neither: press 1 or 2',
      foot: false,
      works: isSomebody,
    },
    { keys: ['page-down', 'down'], does: 'page-down', says: 'next page', foot: false, works: isPaged },
    { keys: ['page-up', 'up'], does: 'page-up', says: 'page before', foot: false, works: isPaged },
    { keys: ['3', 'p'], does: 'plan', says: 'plan', foot: true },
    { keys: ['4', 'h'], does: 'history', says: 'history', foot: true },
    { keys: ['left', 'escape'], does: 'jobs', says: 'jobs', foot: true },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['9', 'q'], does: 'quit', says: 'leave the program', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, screen, command) => {
    if (command === 'page-down') return [withTop(app, { ...screen, page: screen.page + 1 }), []];
    if (command === 'page-up') return [withTop(app, { ...screen, page: screen.page - 1 }), []];
    if (command === 'which') {
      const says = 'Press 1 where it is the same person, 2 where it is somebody else.';
      return [{ ...app, notice: { tone: 'caution', says, more: [] } }, []];
    }
    if (command !== 'go' || !app.job) return null;
    return goToStep(pop(app), stepToGoOn(app)?.id ?? null);
  },
  view: (app, { briefing, page }, room) => {
    const supply = app.job?.next.supply ?? 'live';
    const { glyphs } = room;
    const ahead = stepToGoOn(app)?.title ?? briefing.lookAhead;
    const body: Line[] = [
      ...row(
        'Who',
        briefing.who === null ? 'nobody has said yet' : `${briefing.who}, or somebody else?`,
        room,
      ),
      ...row('Since', briefing.since, room),
      EMPTY,
      ...row('Supply', SUPPLY_WORDS[supply].says, room, { text: '', tone: SUPPLY_WORDS[supply].tone }),
      ...briefing.wasThen.flatMap((says) =>
        wrapMarked(
          { text: `  ${glyphs.doubt} `, tone: 'unproven', bold: true },
          `${says} (not proved)`,
          room.columns,
        ),
      ),
      ...titled(
        'Warnings',
        briefing.warnings,
        { text: `  ${glyphs.caution} `, tone: 'caution', bold: true },
        room,
      ),
      ...titled(
        'Not as planned',
        briefing.notAsPlanned,
        { text: `  ${glyphs.caution} `, tone: 'caution', bold: true },
        room,
      ),
      ...titled(
        'To be proved again',
        briefing.proveAgain,
        { text: `  ${glyphs.open} `, tone: 'unproven', bold: true },
        room,
      ),
      EMPTY,
      ...(briefing.lookBack === null ? [] : row('Last', briefing.lookBack, room)),
      ...(isNobody({ app }) ? row('Next', 'Say who is working, and with which meter', room) : []),
      ...(ahead === null ? [] : row(isNobody({ app }) ? 'Then' : 'Next', ahead, room)),
    ];
    return {
      head: jobHead(app, room, 'where the job stands'),
      body,
      pinned: [],
      low: noticeLines(app, room),
      foot: foot(workingRows(BRIEFING.keys, { app, screen: { kind: 'briefing', briefing, page } }), room),
      page,
    };
  },
};

function row(name: string, says: string, room: Room, mark: Span = { text: '' }): readonly Line[] {
  return wrapMarked(
    { ...mark, text: name.padEnd(8), bold: true },
    says,
    room.columns,
    mark.tone ? { bold: true, tone: mark.tone } : {},
  );
}

function titled(title: string, items: readonly string[], mark: Span, room: Room): readonly Line[] {
  if (items.length === 0) return [];
  return [
    EMPTY,
    [{ text: title, bold: true }],
    ...items.flatMap((item) => wrapMarked(mark, item, room.columns)),
  ];
}
