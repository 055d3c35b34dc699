import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef, Situation } from '../app/screen-def.ts';
import { type App, type HistoryScreen, type Turn, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { clipText, EMPTY, type Line, padText } from '../draw/line.ts';
import { windowed } from '../draw/windowed.ts';
import { wrapped, wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { HistoryFilter, HistoryRow } from '../port.ts';

/** Columns from which a row of the list has room for the kind of its record. */
const WIDE = 100;

const listing = ({ screen }: { screen: HistoryScreen }) => screen.searching === null && !screen.opened;
const reading = ({ screen }: { screen: HistoryScreen }) => screen.searching === null && screen.opened;
const paged = (seen: Situation<HistoryScreen>) => reading(seen) && (seen.turn?.of ?? 1) > 1;
const searching = ({ screen }: { screen: HistoryScreen }) => screen.searching !== null;

/** The record: newest below, filters as keys that take their value from the row in hand. */
export const HISTORY: ScreenDef<HistoryScreen> = {
  keys: [
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true, works: listing },
    { keys: ['enter'], does: 'open', says: 'open', foot: true, works: listing },
    { keys: ['enter', 'left', 'escape'], does: 'shut', says: 'back to the list', foot: true, works: reading },
    { keys: ['page-down', 'down'], does: 'page-down', says: 'next page', foot: false, works: paged },
    { keys: ['page-up', 'up'], does: 'page-up', says: 'page before', foot: false, works: paged },
    { keys: ['1', 's'], does: 'by-step', says: 'this step', foot: true, works: listing },
    { keys: ['2', 'p'], does: 'by-person', says: 'this person', foot: true, works: listing },
    { keys: ['3', 'k'], does: 'by-kind', says: 'this kind', foot: true, works: listing },
    { keys: ['4', 'z'], does: 'by-zone', says: 'this zone', foot: true, works: listing },
    { keys: ['5', '/'], does: 'search', says: 'search', foot: true, works: listing },
    { keys: ['0', 'a'], does: 'all', says: 'all', foot: true, works: listing },
    { keys: ['6', 'v'], does: 'chain', says: 'is it whole', foot: true, works: listing },
    {
      keys: ['page-up', 'page-down', 'home', 'end'],
      does: 'page',
      says: 'by pages, to the ends',
      foot: false,
      works: listing,
    },
    { keys: ['enter'], does: 'find', says: 'find', foot: true, works: searching },
    { keys: ['escape'], does: 'stop-search', says: 'stop searching', foot: true, works: searching },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true, works: listing },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true, works: listing },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key) => {
    if (screen.searching !== null) return ['enter', 'escape', 'ctrl'].includes(key.name) ? null : [app, []];
    if (screen.opened) return null;
    const page = Math.max(1, app.size.rows - 9);
    const count = screen.rows.length;
    const by = { up: -1, down: 1, 'page-up': -page, 'page-down': page, home: -count, end: count }[
      key.name as string
    ];
    if (by === undefined) return null;
    const at = Math.min(Math.max(0, count - 1), Math.max(0, screen.at + by));
    return [withTop(app, { ...screen, at, page: 0 }), []];
  },
  press: (app, screen, command) => {
    const row = screen.rows[screen.at];
    switch (command) {
      case 'open':
        return [withTop(app, { ...screen, opened: row !== undefined, page: 0 }), []];
      case 'shut':
        return [withTop(app, { ...screen, opened: false, page: 0 }), []];
      case 'page-down':
      case 'page-up':
        return [withTop(app, { ...screen, page: screen.page + (command === 'page-down' ? 1 : -1) }), []];
      case 'by-step':
        return row?.step ? filtered(app, { step: row.step }) : [app, []];
      case 'by-person':
        return row?.person ? filtered(app, { person: row.person }) : [app, []];
      case 'by-kind':
        return row ? filtered(app, { kind: row.kind }) : [app, []];
      case 'by-zone': {
        const step = app.job?.steps.find((one) => one.id === row?.step);
        const zone = app.job?.plan.survey.zones.find((one) => step?.about.includes(one.id));
        return zone ? filtered(app, { zone: zone.id }) : [app, []];
      }
      case 'all':
        return filtered(app, {});
      case 'search':
        return [withTop(app, { ...screen, searching: '' }), []];
      case 'stop-search':
        return [withTop(app, { ...screen, searching: null }), []];
      case 'find':
        return filtered(
          withTop(app, { ...screen, searching: null }),
          screen.searching === '' ? {} : { find: screen.searching ?? '' },
        );
      default:
        return null;
    }
  },
  line: (app, screen, value) => [withTop(app, { ...screen, searching: value }), []],
  view: (app, screen, room) => {
    const row = screen.rows[screen.at];
    const common = {
      head: jobHead(app, room, 'Record'),
      foot: foot(workingRows(HISTORY.keys, { app, screen }), room, room.columns < 100 ? 2 : 1),
      page: screen.page,
      low: noticeLines(app, room),
    };
    if (screen.opened && row) return { ...common, body: openedRow(row, room), pinned: [] };
    const title: Line = [
      { text: filterWords(screen.filter), bold: true },
      {
        text: `  ${screen.rows.length === 0 ? 'no record' : `${screen.at + 1} of ${screen.rows.length}`}`,
        tone: 'quiet',
      },
    ];
    const rows = windowed(screen.rows, screen.at, room.rows - 12);
    const body = [title, EMPTY, ...rows.map((one) => listRow(one, one === row, room))];
    if (screen.searching === null)
      return {
        ...common,
        body,
        pinned: row ? [EMPTY, whenAndWho(row), ...wrapped(row.says, room.columns)] : [],
      };
    return {
      ...common,
      body: [...body.slice(0, Math.max(2, body.length - 2)), EMPTY],
      control: { kind: 'line', id: 'search', value: screen.searching, placeholder: 'words to find' },
      pinned: [],
    };
  },
};

function whenAndWho({ at, person }: HistoryRow): Line {
  return [{ text: person === null ? at : `${at}, ${person}`, tone: 'quiet' }];
}

function filtered(app: App, filter: HistoryFilter): Turn {
  return [app, [{ do: 'history', filter }]];
}

function filterWords(filter: HistoryFilter): string {
  const parts = Object.entries(filter).map(([name, value]) =>
    name === 'find' ? `with the words “${value}”` : `${name} ${value}`,
  );
  return parts.length === 0 ? 'All records' : `Records: ${parts.join(', ')}`;
}

// Who and when in full; the kind, which the words tell as well, where there is room for it.
function listRow(row: HistoryRow, here: boolean, room: Room): Line {
  const wide = room.columns >= WIDE;
  const person = clipText(row.person ?? '', wide ? 20 : 10, room.glyphs.cut);
  return [
    here ? { text: `${room.glyphs.pointer} `, tone: 'focus', bold: true } : { text: '  ' },
    { text: `${row.n}`.padStart(4), tone: 'quiet' },
    { text: `  ${row.at.slice(0, 16)}  `, tone: 'quiet' },
    { text: `${padText(person, wide ? 20 : 10)} `, bold: here },
    ...(wide ? [{ text: `${padText(row.kind, 12)} `, bold: here }] : []),
    { text: row.says, bold: here },
  ];
}

function openedRow(row: HistoryRow, room: Room): readonly Line[] {
  return [
    [
      { text: `Record ${row.n}`, bold: true },
      { text: `  ${row.kind}, ${row.at}`, tone: 'quiet' },
    ],
    EMPTY,
    ...wrapText(row.says, room.columns).map((text): Line => [{ text, bold: true }]),
    EMPTY,
    ...row.detail
      .flatMap((line) => wrapText(line, room.columns - 2))
      .map((text): Line => [{ text: `  ${text}` }]),
  ];
}
