import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type Screen, withTop } from '../app/state.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { wrapText } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { JobRow } from '../port.ts';

type Jobs = Extract<Screen, { kind: 'jobs' }>;

/** The first screen: the jobs there are, the demo job, and how to begin one. */
export const JOBS: ScreenDef<Jobs> = {
  keys: [
    { keys: ['1', '…', '9'], does: 'pick', says: 'open', foot: true },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'enter', says: 'open', foot: true },
    { keys: ['?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['q', 'ctrl+c', 'escape'], does: 'quit', says: 'leave the program', foot: true },
  ],
  picked: (app, _, value) => [
    app,
    [value === 'demo' ? { do: 'open-demo' } : { do: 'open-job', dir: value.slice('job '.length) }],
  ],
  view: (app, screen, room) => ({
    head: plainHead('loopward', 'jobs', room),
    body: [
      ...noticeLines(app, room),
      ...wrapText(
        'Leads the changeover of an old hard-wired alarm panel to a networked 12 V input board, step by step, and keeps the record.',
        room.columns,
      ).map((text): Line => [{ text, tone: 'quiet' }]),
      EMPTY,
    ],
    control: {
      kind: 'list',
      id: 'jobs',
      items: [
        ...app.jobs.map((job) => ({ value: `job ${job.dir}`, label: jobLabel(job, room.columns) })),
        { value: 'demo', label: 'The demo job: a sailing club on a harbour' },
      ],
      initial: 0,
    },
    pinned: [
      EMPTY,
      ...wrapText(
        'A job of your own begins with a survey: loopward start SURVEY --board FILE',
        room.columns,
      ).map((text): Line => [{ text, tone: 'quiet' }]),
    ],
    foot: foot(workingRows(JOBS.keys, { app, screen }), room),
    page: 0,
  }),
};

function jobLabel(job: JobRow, columns: number): string {
  const name = padText(
    job.rehearsal ? `REHEARSAL ${job.site}` : job.site,
    Math.max(18, Math.floor(columns / 3)),
  );
  if (job.state === 'unreadable') return `${name} cannot be read: ${job.last}`;
  if (job.state === 'closed') return `${name} closed, ${job.last}`;
  return `${name} ${job.stage}, ${job.done} of ${job.total}; ${job.supply}; ${job.last}`;
}

export function highlight(app: Parameters<typeof withTop>[0], screen: Jobs, value: string) {
  return withTop(app, { ...screen, highlighted: value });
}
