import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type Screen, withTop } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { Wrong } from '../port.ts';

type Rehearse = Extract<Screen, { kind: 'rehearse' }>;

const WAYS = [
  { value: 'drawn 0', label: 'Nothing is wrong in the building' },
  { value: 'drawn 1', label: 'One thing is wrong, drawn by chance' },
  { value: 'drawn 2', label: 'Two things are wrong, drawn by chance' },
  { value: 'drawn 3', label: 'Three things are wrong, drawn by chance' },
  { value: 'choose', label: 'One thing is wrong, and I choose which' },
];

function wrongOf(value: string): Wrong {
  const [how = '', what = ''] = value.split(' ');
  return how === 'drawn' ? { drawn: Number(what) } : { fault: what };
}

const drawing = ({ screen }: { readonly screen: Rehearse }) => screen.chosen === null;

/** Before a rehearsal: what is to be wrong in its building, drawn by chance or chosen. */
export const REHEARSE: ScreenDef<Rehearse> = {
  keys: [
    { keys: ['1', '…', '9'], does: 'pick', says: 'begin', foot: true, works: drawing },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'enter', says: 'begin', foot: true },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program', foot: false },
  ],
  press: (app, screen, command) =>
    command === 'back' && screen.chosen !== null ? [withTop(app, { ...screen, chosen: null }), []] : null,
  picked: (app, screen, value) => {
    if (value === 'choose')
      return [withTop(app, { ...screen, chosen: `fault ${screen.faults[0]?.name}` }), []];
    return [app, [{ do: 'open-rehearsal', dir: screen.dir, wrong: wrongOf(value) }]];
  },
  view: (app, screen, room) => {
    const fault = screen.faults.find(({ name }) => `fault ${name}` === screen.chosen);
    const says =
      fault?.says ??
      'A building is drawn in which every part is a little different. Its meter answers when you ask it, and what does not fit is yours to find.';
    const told = wrapped(says, room.columns, { tone: 'quiet' });
    return {
      head: plainHead('loopward', 'rehearsal', room),
      body: [
        [{ text: screen.site, bold: true }],
        ...told,
        // The list stays where it is, however long the sentence about the one under the pointer is.
        ...Array<Line>(Math.max(0, 2 - told.length)).fill(EMPTY),
        EMPTY,
      ],
      control: {
        kind: 'list',
        id: fault === undefined ? 'rehearse' : 'rehearse-fault',
        items:
          fault === undefined
            ? WAYS
            : screen.faults.map(({ name }) => ({ value: `fault ${name}`, label: inWords(name) })),
        initial: fault === undefined ? 1 : 0,
      },
      pinned: [],
      low: noticeLines(app, room),
      foot: foot(workingRows(REHEARSE.keys, { app, screen }), room),
      page: 0,
    };
  },
};

/** A fault's name as a line of a list. */
function inWords(name: string): string {
  const words = name.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
