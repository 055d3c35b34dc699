import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { Screen } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';

/** A closed job: where its record is, and what can still be done. */
export const CLOSED: ScreenDef<Extract<Screen, { kind: 'closed' }>> = {
  keys: [
    { keys: ['1', 'h'], does: 'history', says: 'the record', foot: true },
    { keys: ['2', 'p'], does: 'plan', says: 'the plan', foot: true },
    { keys: ['3', 'n'], does: 'note', says: 'add a note', foot: true },
    { keys: ['6', 'o'], does: 'hand-over', says: 'write the documents', foot: true },
    {
      keys: ['7', 'd'],
      does: 'debrief',
      says: 'rehearsal: the debrief',
      foot: true,
      works: ({ app }) => app.job?.rehearsal === true,
    },
    { keys: ['4', 'escape', 'left'], does: 'jobs', says: 'jobs', foot: true },
    { keys: ['8', '?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['5', 'q', 'ctrl+c'], does: 'quit', says: 'leave the program', foot: true },
  ],
  view: (app, screen, room) => {
    const says = ['The job is closed and its record sealed.', `It stands in ${app.job?.dir ?? ''}`];
    return {
      head: jobHead(app, room),
      body: [
        [{ text: `${room.glyphs.done} Closed`, bold: true, tone: 'good' }],
        EMPTY,
        ...says.flatMap((one) => wrapText(one, room.columns)).map((text): Line => [{ text }]),
      ],
      pinned: [],
      low: noticeLines(app, room),
      foot: foot(workingRows(CLOSED.keys, { app, screen }), room),
      page: 0,
    };
  },
};
