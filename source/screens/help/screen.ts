import { foot, keysShown, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, pop, type Screen, top, withTop } from '../app/state.ts';
import { compose, type Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import type { KeyRow } from '../keys/table.ts';
import { workingRows } from '../keys/table.ts';

const GENERAL = [
  'A numeric keypad is enough: digits, point, minus, / for OL, Enter and the arrows.',
  'A choice is made by its number and then Enter; nothing is ever chosen for you.',
  'The left arrow erases what is typed; with nothing typed it goes back, and on a step to its menu.',
  'On a step Enter with nothing typed turns the page, and records nothing.',
  'What is typed is kept, whatever happens to the program.',
];

/** Every key that works on the screen below, from the table that handles them. */
export function helpScreen(
  defOf: (screen: Screen) => ScreenDef<Screen>,
): ScreenDef<Extract<Screen, { kind: 'help' }>> {
  const def: ScreenDef<Extract<Screen, { kind: 'help' }>> = {
    keys: [
      { keys: ['enter'], does: 'enter', says: 'next page; on the last one, back', foot: false },
      { keys: ['left', 'escape', '?'], does: 'back', says: 'back', foot: true },
      { keys: ['page-down', 'down'], does: 'page-down', says: 'next page', foot: false },
      { keys: ['page-up', 'up'], does: 'page-up', says: 'page before', foot: false },
      { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
    ],
    press: (app, screen, command, turn) => {
      if (command === 'enter') {
        const isLast = turn.at >= turn.of - 1;
        return isLast ? [pop(app), []] : [withTop(app, { ...screen, page: turn.at + 1 }), []];
      }
      if (command === 'page-down') return [withTop(app, { ...screen, page: screen.page + 1 }), []];
      if (command === 'page-up') return [withTop(app, { ...screen, page: screen.page - 1 }), []];
      return null;
    },
    view: (app, screen, room) => ({
      head: plainHead('loopward', 'keys of the screen you came from', room),
      body: [
        ...GENERAL.flatMap((says) => wrapMarked({ text: `${room.glyphs.dot} ` }, says, room.columns)),
        EMPTY,
        ...keyLines(rowsBelow(app, defOf, room), room),
      ],
      pinned: [],
      foot: foot(workingRows(def.keys, { app, screen }), room),
      page: screen.page,
      turnedBy: 'Enter turns',
    }),
  };
  return def;
}

function rowsBelow(
  app: App,
  defOf: (screen: Screen) => ScreenDef<Screen>,
  room: Room,
): readonly KeyRow<string, never>[] {
  const below = pop(app);
  const screen = top(below);
  const def = defOf(screen);
  const { turn } = compose(def.view(below, screen, room), room);
  return eachKeyOnce(workingRows(def.keys, { app: below, screen, turn }));
}

// The first row that works has the key, so a later one does not show it.
function eachKeyOnce(rows: readonly KeyRow<string, never>[]): readonly KeyRow<string, never>[] {
  const seen = new Set<string>();
  return rows.flatMap((row) => {
    const keys = row.keys.filter((key) => key === '…' || !seen.has(key));
    for (const key of keys) if (key !== '…') seen.add(key);
    return keys.some((key) => key !== '…') ? [{ ...row, keys }] : [];
  });
}

function keyLines(rows: readonly KeyRow<string, never>[], room: Room): readonly Line[] {
  return rows.map((row) => [
    { text: padText(keysShown(row, room), 20), bold: true, tone: 'focus' },
    { text: row.says },
  ]);
}
