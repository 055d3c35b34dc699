import { type Candidate, type LearnedInput, learnMapping } from '../../live/learn.ts';
import { inputSheet } from '../../plan/input-sheet.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, type OpenJob, pop, type Screen, type Turn, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapMarked, wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';

type LearnScreen = Extract<Screen, { kind: 'learn' }>;

/** How an input is held, one after the other: what changes by itself does not follow it twice. */
const HOLDS = ['closed', 'open', 'closed'] as const;

/** Learning how a board tells its inputs, from the first two that something hangs on; null where there are fewer. */
export function learnScreen(job: OpenJob, board: string): LearnScreen | null {
  const [first, second] = learnable(job, board);
  if (first === undefined || second === undefined) return null;
  return { kind: 'learn', board, inputs: [first.id, second.id], phase: 0, picked: null };
}

/** Inputs with all that a board may call them: what stands on its terminal, and the names of the input sheet. */
function learnable(job: OpenJob, board: string): readonly (LearnedInput & { readonly says: string })[] {
  return inputSheet(job.plan)
    .filter((row) => row.board === board && row.name !== '')
    .map((row) => ({
      id: row.input,
      names: [row.terminal, row.detectors[0]?.id ?? row.terminal, row.name],
      says: `${row.terminal} and ${row.common} (${row.name})`,
    }));
}

const isHolding = ({ phase }: LearnScreen) => phase < HOLDS.length;

/** Two inputs are held open and closed; what followed them alone tells how the board speaks. */
export const LEARN: ScreenDef<LearnScreen> = {
  keys: [
    {
      keys: ['enter'],
      does: 'held',
      says: 'it is so, and the board has told',
      foot: true,
      works: ({ screen }) => isHolding(screen),
    },
    {
      keys: ['1', '…', '9'],
      does: 'pick',
      says: 'pick what followed it',
      foot: true,
      works: ({ screen }) => !isHolding(screen),
    },
    {
      keys: ['0'],
      does: 'again',
      says: 'hold this input again',
      foot: true,
      works: ({ screen }) => !isHolding(screen),
    },
    { keys: ['left', 'escape'], does: 'leave-learning', says: 'back, nothing is learned', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key) => {
    const digit = key.name === 'char' && !key.pasted && /^[1-9]$/.test(key.char) ? Number(key.char) : 0;
    const candidate = isHolding(screen) ? undefined : app.live?.candidates?.[digit - 1];
    return candidate ? picked(app, screen, candidate) : null;
  },
  press: (app, screen, command) => {
    switch (command) {
      case 'held':
        return held(app, screen);
      case 'again':
        return begin(app, { ...screen, phase: 0 });
      case 'leave-learning':
        return [pop(app), [{ do: 'learn-hold', state: null }]];
      default:
        return null;
    }
  },
  view: (app, screen, room) => ({
    head: jobHead(app, room, `learning ${screen.board}`),
    body: [...asked(app, screen, room), EMPTY, ...listed(app, screen, room)],
    pinned: [],
    low: noticeLines(app, room),
    foot: foot(workingRows(LEARN.keys, { app, screen }), room, 2),
    page: 0,
  }),
};

function begin(app: App, screen: LearnScreen): Turn {
  return [
    withTop(app, screen),
    [
      { do: 'learn-hold', state: null },
      { do: 'learn-hold', state: HOLDS[0] },
    ],
  ];
}

function held(app: App, screen: LearnScreen): Turn {
  const phase = screen.phase + 1;
  const next = withTop(app, { ...screen, phase });
  const state = HOLDS[phase];
  if (state !== undefined) return [next, [{ do: 'learn-hold', state }]];
  const input = inHand(app, screen);
  return [next, input ? [{ do: 'learn-candidates', input }] : []];
}

function inHand({ job }: App, { board, inputs, picked: first }: LearnScreen) {
  const id = inputs[first === null ? 0 : 1];
  return job ? learnable(job, board).find((one) => one.id === id) : undefined;
}

function picked(app: App, screen: LearnScreen, candidate: Candidate): Turn {
  if (screen.picked === null) return begin(app, { ...screen, phase: 0, picked: candidate });
  const all = app.job ? learnable(app.job, screen.board) : [];
  const [first, second] = screen.inputs.map((id) => all.find((one) => one.id === id));
  if (!first || !second) return [app, []];
  const learned = learnMapping({ input: first, at: screen.picked }, { input: second, at: candidate }, all);
  if (typeof learned === 'string') return [{ ...app, notice: { tone: 'bad', says: learned, more: [] } }, []];
  const says = `Learned: ${learned.topic}${learned.state === '' ? '' : `, ${learned.state}`}; open is ${learned.open.join(', ')}, closed is ${learned.closed.join(', ')}.`;
  const notice = {
    tone: 'good',
    says,
    more: ['Work a third input and see whether it is heard as itself.'],
  } as const;
  return [
    { ...pop(app), notice },
    [
      { do: 'learn-hold', state: null },
      { do: 'live-map', board: screen.board, mapping: learned },
    ],
  ];
}

function asked(app: App, screen: LearnScreen, room: Room): readonly Line[] {
  const input = inHand(app, screen);
  const place = `Input ${screen.picked === null ? 1 : 2} of 2, ${Math.min(screen.phase + 1, HOLDS.length)} of ${HOLDS.length}`;
  const says = !isHolding(screen)
    ? 'This followed it. Which of them tells its state?'
    : HOLDS[screen.phase] === 'open'
      ? `Open ${input?.says}: take the jumper off, or work its contact and hold it.`
      : `Close ${input?.says}: a jumper across it, or its contact closed. Leave all others alone.`;
  return [
    [{ text: place, tone: 'quiet' }],
    ...wrapText(says, room.columns).map((row): Line => [{ text: row, bold: true }]),
  ];
}

function listed({ live }: App, screen: LearnScreen, room: Room): readonly Line[] {
  if (isHolding(screen))
    return [[{ text: `${live?.tapped ?? 0} messages since this input is learned`, tone: 'quiet' }]];
  const candidates = live?.candidates ?? [];
  if (candidates.length === 0)
    return wrapText(
      'Nothing followed it. Press 0 and hold it again, a few seconds each time; look whether the board is on this broker.',
      room.columns,
    ).map((row): Line => [{ text: row }]);
  return candidates.flatMap(({ topic, path, open, closed }, at) =>
    wrapMarked(
      { text: ` ${at + 1}  `, bold: true, tone: 'focus' },
      `${topic}${path === '' ? '' : ` ${path}`}: open ${open}, closed ${closed}`,
      room.columns,
    ),
  );
}
