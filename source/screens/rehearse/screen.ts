import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { Screen } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { Wrong } from '../port.ts';

type Rehearse = Extract<Screen, { kind: 'rehearse' }>;

const DRAWN = [
  'Nothing is wrong in the building',
  'One thing is wrong, drawn by chance',
  'Two things are wrong, drawn by chance',
  'Three things are wrong, drawn by chance',
];

function wrongOf(value: string): Wrong {
  const [how = '', what = ''] = value.split(' ');
  return how === 'drawn' ? { drawn: Number(what) } : { fault: what };
}

/** Before a rehearsal: what is to be wrong in its building, drawn by chance or chosen. */
export const REHEARSE: ScreenDef<Rehearse> = {
  keys: [
    { keys: ['1', '…', '9'], does: 'pick', says: 'begin', foot: true },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'enter', says: 'begin', foot: true },
    { keys: ['left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program', foot: false },
  ],
  picked: (app, screen, value) => [app, [{ do: 'open-rehearsal', dir: screen.dir, wrong: wrongOf(value) }]],
  view: (app, screen, room) => ({
    head: plainHead('loopward', 'rehearsal', room),
    body: [
      [{ text: screen.site, bold: true }],
      ...wrapText(
        'A building is drawn in which every part is a little different. Its meter answers when you ask it, and what does not fit is yours to find.',
        room.columns,
      ).map((text): Line => [{ text, tone: 'quiet' }]),
      EMPTY,
    ],
    control: {
      kind: 'list',
      id: 'rehearse',
      items: [
        ...DRAWN.map((label, count) => ({ value: `drawn ${count}`, label })),
        ...screen.faults.map(({ name, says }) => ({ value: `fault ${name}`, label: says })),
      ],
      initial: 1,
    },
    pinned: [],
    low: noticeLines(app, room),
    foot: foot(workingRows(REHEARSE.keys, { app, screen }), room),
    page: 0,
  }),
};
