import { foot, jobHead } from '../app/chrome.ts';
import { lastWord } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { LastWord, Screen } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapMarked, wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';

type Sure = Extract<Screen, { kind: 'sure' }>;

const of =
  (word: LastWord) =>
  ({ screen }: { screen: Sure }) =>
    screen.of === word;

const ASKS: Readonly<Record<LastWord, string>> = {
  doubt: 'Void the proof of dead?',
  quit: 'Leave the program?',
  jobs: 'Leave this job?',
};

const PROOF_ENDS =
  'The proof of dead ends with it: before anything is touched again, dead is proved anew in full.';

/** One question before what cannot be taken back. The key that was pressed, pressed again, does it. */
export const SURE: ScreenDef<Sure> = {
  keys: [
    { keys: ['enter', '*', 'd'], does: 'yes', says: 'yes, I doubt it', foot: true, works: of('doubt') },
    { keys: ['enter', 'q', 'ctrl+c'], does: 'yes', says: 'yes, leave', foot: true, works: of('quit') },
    { keys: ['enter'], does: 'yes', says: 'yes, to the jobs', foot: true, works: of('jobs') },
    { keys: ['escape', 'left', '0'], does: 'back', says: 'no, back', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program', foot: false },
  ],
  press: (app, screen, command) => (command === 'yes' ? lastWord(app, screen.of, true) : null),
  view: (app, screen, room) => {
    const says = [
      ...(screen.of === 'quit' ? ['What was confirmed is recorded, and what was typed is kept.'] : []),
      ...(app.job?.next.supply === 'dead' ? [PROOF_ENDS] : []),
    ];
    return {
      head: jobHead(app, room),
      body: [
        ...wrapMarked(
          { text: `${room.glyphs.doubt} `, tone: 'unproven', bold: true },
          ASKS[screen.of],
          room.columns,
          {
            bold: true,
          },
        ),
        EMPTY,
        ...says.flatMap((one): readonly Line[] => wrapped(one, room.columns)),
      ],
      pinned: [],
      foot: foot(workingRows(SURE.keys, { app, screen }), room),
      page: 0,
    };
  },
};
