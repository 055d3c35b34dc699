import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type Screen, withTop } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapMarked, wrapped, wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';

/** What may be behind a reading that does not fit, the likeliest first, and what to try. */
export const DIAGNOSIS: ScreenDef<Extract<Screen, { kind: 'diagnosis' }>> = {
  keys: [
    { keys: ['enter', 'left', 'escape'], does: 'back', says: 'back to the step: read again', foot: true },
    { keys: ['page-down', 'down'], does: 'page-down', says: 'next page', foot: true },
    { keys: ['page-up', 'up'], does: 'page-up', says: 'page before', foot: false },
    { keys: ['n'], does: 'note', says: 'note', foot: true },
    { keys: ['k'], does: 'correct', says: 'correct the survey', foot: true },
    { keys: ['c'], does: 'cannot', says: 'cannot', foot: true },
    { keys: ['tab', 'right'], does: 'menu', says: 'more', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, screen, command) => {
    if (command === 'page-down') return [withTop(app, { ...screen, page: screen.page + 1 }), []];
    if (command === 'page-up') return [withTop(app, { ...screen, page: screen.page - 1 }), []];
    return null;
  },
  view: (app, screen, room) => {
    const title = app.job?.steps.find((step) => step.id === screen.step)?.title ?? '';
    const causes = screen.causes.flatMap((cause, index): readonly Line[] => [
      ...wrapMarked({ text: `${index + 1} `, tone: 'focus', bold: true }, cause.says, room.columns, {
        bold: true,
      }),
      ...wrapMarked({ text: `  ${room.glyphs.forth} ` }, cause.try, room.columns),
    ]);
    const read = app.causes[screen.step] !== undefined;
    const none = wrapText(
      read
        ? 'What was read does not fit, and nothing that the plan knows explains it. Look at what is connected, zero the leads and read again; note what is odd.'
        : 'Nothing has been read here that does not fit. If you are not sure what is meant, look at the plan, note what is odd, or pause and find out first.',
      room.columns,
    );
    return {
      head: jobHead(app, room),
      body: [
        [{ text: 'What may be behind it', bold: true }],
        ...wrapped(title, room.columns, { tone: 'quiet' }),
        EMPTY,
        ...(causes.length > 0 ? causes : none.map((text): Line => [{ text }])),
      ],
      pinned: [],
      low: noticeLines(app, room),
      foot: foot(workingRows(DIAGNOSIS.keys, { app, screen }), room),
      page: screen.page,
    };
  },
};
