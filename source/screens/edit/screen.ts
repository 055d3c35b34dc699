import { parseQuantity } from '../../electrical/quantity.ts';
import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { beside } from '../draw/beside.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { windowed } from '../draw/windowed.ts';
import { workingRows } from '../keys/table.ts';
import type { ScreenSettings } from '../settings.ts';
import { questionLines } from '../survey/question-lines.ts';
import { findingLines } from '../survey/screen.ts';
import { inUnits } from '../units.ts';
import type { Row } from './places.ts';
import { askedIn, type EditScreen, editKey, placesIn, rowsIn, stepBack } from './state.ts';

const SIDE_FROM_COLUMNS = 100;
const SIDE_COLUMNS = 38;

type Situation = { readonly screen: EditScreen };
const asking = ({ screen }: Situation) => askedIn(screen) !== null;
const listing = (situation: Situation) => !asking(situation);

/** A survey file that is changed: its places, the fields of one of them, one question at a time. */
export const EDIT: ScreenDef<EditScreen> = {
  keys: [
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true, works: listing },
    { keys: ['enter', 'right'], does: 'open', says: 'open', foot: true, works: listing },
    {
      keys: ['1', '…', '9'],
      does: 'pick',
      says: 'pick',
      foot: true,
      works: ({ screen }) => askedIn(screen)?.kind === 'choice',
    },
    { keys: ['enter'], does: 'enter', says: 'next', foot: true, works: asking },
    {
      keys: ['left', 'erase'],
      does: 'erase',
      says: 'erase',
      foot: true,
      works: ({ screen }) => screen.typed !== '',
    },
    {
      keys: ['left', 'escape'],
      does: 'step-back',
      says: 'back',
      foot: true,
      works: ({ screen }) => screen.typed === '' && (screen.place !== null || screen.asking !== null),
    },
    {
      keys: ['left', 'escape'],
      does: 'jobs',
      says: 'leave it for later: it is kept',
      foot: true,
      works: ({ screen }) => screen.place === null && screen.asking === null,
    },
    { keys: ['escape'], does: 'step-back', says: 'back', foot: false },
    {
      keys: ['page-up', 'page-down', 'home', 'end'],
      does: 'page',
      says: 'by pages, to the ends',
      foot: false,
      works: listing,
    },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true, works: listing },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: editKey,
  press: (app, screen, command) => (command === 'step-back' ? stepBack(app, screen) : null),
  view: (app, screen, room) => {
    const wide = room.columns >= SIDE_FROM_COLUMNS && !room.linear;
    const left = { ...room, columns: wide ? room.columns - SIDE_COLUMNS - 2 : room.columns };
    const { units } = app.settings;
    const question = askedIn(screen);
    const findings = findingLines(screen.findings, wide ? { ...room, columns: SIDE_COLUMNS } : room);
    const below = wide ? [] : findings.slice(0, 2);
    const asked = question && questionLines(question, { ...screen, held: question.standard }, left, units);
    // The row left free, head, foot and a row between; the title of the list and what stands below it.
    const space = room.rows - 9 - noticeLines(app, room).length - (below.length > 0 ? below.length + 1 : 0);
    const lines = asked?.lines ?? listLines(screen, left, space, units);
    return {
      head: plainHead('loopward', `survey ${screen.file.split(/[/\\]/).at(-1)}`, room),
      body: [],
      pinned: wide
        ? beside(lines, findings, left.columns, SIDE_COLUMNS, room)
        : [...lines, ...(below.length > 0 ? [EMPTY, ...below] : [])],
      low: noticeLines(app, room),
      foot: foot(workingRows(EDIT.keys, { app, screen }), room),
      page: 0,
      ...(asked?.cursor && { cursor: asked.cursor }),
    };
  },
};

function listLines(
  screen: EditScreen,
  room: Room,
  space: number,
  units: ScreenSettings['units'],
): readonly Line[] {
  const places = placesIn(screen.text);
  if (screen.place === null) {
    const state = screen.text === screen.original ? 'as it stands in its file' : 'changed, not saved yet';
    const rows = places.map((place, index): { here: boolean; line: Line } => ({
      here: index === screen.placeAt,
      line: [
        { text: padText(place.title, 22), bold: index === screen.placeAt },
        { text: ` ${place.says}`, tone: 'quiet' },
      ],
    }));
    return [[{ text: `The survey, ${state}` }], EMPTY, ...marked(rows, screen.placeAt, space, room)];
  }
  const title = places.find(({ id }) => id === screen.place)?.title ?? '';
  const rows = rowsIn(screen).map((row, index) => {
    const here = index === screen.at;
    return { here, line: rowLine(row, here, units) };
  });
  return [[{ text: title, bold: true }], EMPTY, ...marked(rows, screen.at, space, room)];
}

function marked(
  rows: readonly { here: boolean; line: Line }[],
  at: number,
  space: number,
  room: Room,
): readonly Line[] {
  const isLong = rows.length > space;
  const shown = windowed(rows, at, isLong ? space - 1 : space);
  const from = rows.indexOf(shown[0]!);
  const says = `${room.glyphs.more} ${from + 1} to ${from + shown.length} of ${rows.length}`;
  return [
    ...shown.map(({ here, line }) => mark(here, line, room)),
    ...(isLong ? [[{ text: says, tone: 'focus' as const }]] : []),
  ];
}

function mark(here: boolean, line: Line, room: Room): Line {
  return [here ? { text: `${room.glyphs.pointer} `, tone: 'focus', bold: true } : { text: '  ' }, ...line];
}

function rowLine(row: Row, here: boolean, units: ScreenSettings['units']): Line {
  if (row.kind === 'head') return [{ text: row.text, bold: true }];
  if (row.kind === 'add') return [{ text: `+ ${row.label}`, bold: here }];
  if (row.kind === 'remove') return [{ text: `- ${row.label}`, bold: here }];
  return [
    { text: padText(`  ${row.def.label}`, 17), tone: 'quiet' },
    ...(row.held === null
      ? [{ text: row.assumed === null ? 'not said' : `not said, assumed ${inUnits(row.assumed, units)}` }]
      : [{ text: shown(row, row.held, units), bold: here }]),
  ];
}

function shown(row: Extract<Row, { kind: 'field' }>, held: string, units: ScreenSettings['units']): string {
  const label = row.question.options.find((option) => option.id === held)?.label;
  if (label !== undefined) return label.split(/ {3}|: /)[0] ?? label;
  const { by } = row.def;
  if (typeof by !== 'object' || !('of' in by) || !parseQuantity(held, by.of).ok) {
    return held === 'unknown' && row.assumed !== null
      ? `unknown, assumed ${inUnits(row.assumed, units)}`
      : held;
  }
  const other = inUnits(held, units);
  return other === held ? held : `${held} = ${other}`;
}
