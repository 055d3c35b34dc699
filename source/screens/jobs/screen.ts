import { basename } from 'node:path';
import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import { isCommand, runCommand } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { App, Effect, Screen } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { JobRow } from '../port.ts';
import { CARRY_ON_ROW } from '../unsaved/lost.ts';

const ASKS: Readonly<Record<string, Effect>> = {
  demo: { do: 'open-demo' },
  new: { do: 'new-survey' },
  rehearse: { do: 'offer-rehearsal', dir: null, site: 'The demo: a sailing club on a harbour' },
};

function askedBy(value: string): Effect {
  if (value.startsWith('edit ')) return { do: 'edit-survey', file: value.slice('edit '.length) };
  return ASKS[value] ?? { do: 'open-job', dir: value.slice('job '.length) };
}

type Jobs = Extract<Screen, { kind: 'jobs' }>;

/** The first screen: the jobs there are, the demo job, and how to begin one. */
export const JOBS: ScreenDef<Jobs> = {
  keys: [
    CARRY_ON_ROW,
    { keys: ['1', '…', '9'], does: 'pick', says: 'open', foot: true },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    { keys: ['enter'], does: 'enter', says: 'open', foot: true },
    {
      keys: ['o'],
      does: 'documents',
      says: 'its documents',
      foot: true,
      works: ({ app, screen }) => jobUnder(app, screen.highlighted) !== null,
    },
    {
      keys: ['r'],
      does: 'rehearse',
      says: 'rehearse it',
      foot: true,
      works: ({ app, screen }) => jobUnder(app, screen.highlighted) !== null,
    },
    { keys: ['?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['q', 'ctrl+c', 'escape'], does: 'quit', says: 'leave the program', foot: true },
  ],
  press: (app, screen, command) => {
    const job = jobUnder(app, screen.highlighted);
    if (job === null) return null;
    if (command === 'documents') return [app, [{ do: 'hand-over', dir: job.dir }]];
    if (command === 'rehearse') return [app, [{ do: 'offer-rehearsal', dir: job.dir, site: job.site }]];
    return null;
  },
  picked: (app, _, value) => (isCommand(value) ? runCommand(app, value) : [app, [askedBy(value)]]),
  view: (app, screen, room) => ({
    head: plainHead('loopward', 'jobs', room),
    body: [
      // Said to whoever comes for the first time; from then on the rows belong to the jobs.
      ...(app.jobs.length > 0
        ? []
        : wrapped(
            'Leads the changeover of an old hard-wired alarm panel to a networked 12 V input board, step by step, and keeps the record.',
            room.columns,
            { tone: 'quiet' },
          )),
      EMPTY,
    ],
    control: {
      kind: 'list',
      id: 'jobs',
      items: [
        ...app.jobs.map((job) => ({ value: `job ${job.dir}`, label: jobLabel(job, room.columns) })),
        { value: 'new', label: 'A new job: survey the old installation' },
        ...app.surveys.map((file) => ({
          value: `edit ${file}`,
          label: `Change the survey ${basename(file)}`,
        })),
        { value: 'survey-file', label: 'A survey that is written already: type where it is' },
        { value: 'demo', label: 'The demo job: a sailing club on a harbour' },
        { value: 'rehearse', label: 'A rehearsal: a simulated building with faults' },
        { value: 'help', label: 'All keys' },
        { value: 'quit', label: 'Leave the program' },
      ],
      initial: 0,
    },
    low: noticeLines(app, room),
    pinned: inFull(app, screen.highlighted, room),
    foot: foot(workingRows(JOBS.keys, { app, screen }), room),
    page: 0,
  }),
};

function jobLabel(job: JobRow, columns: number): string {
  const name = padText(
    job.rehearsal ? `REHEARSAL ${job.site}` : job.site,
    Math.max(18, Math.floor(columns / 3)),
  );
  return job.state === 'open' ? `${name} ${job.done} of ${job.total}` : `${name} ${STATES[job.state]}`;
}

const STATES = { closed: 'closed', unreadable: 'cannot be read' } as const;

function jobUnder(app: App, highlighted: string | null): JobRow | null {
  const first = highlighted === null ? app.jobs[0] : undefined;
  return app.jobs.find((one) => `job ${one.dir}` === highlighted) ?? first ?? null;
}

// The job under the mark in full, whatever its row had to leave out.
function inFull(app: App, highlighted: string | null, room: Room): readonly Line[] {
  const job = jobUnder(app, highlighted);
  if (job === null) return [];
  const says =
    job.state === 'open'
      ? `${job.site}: ${job.stage}, ${job.done} of ${job.total}. Supply: ${job.supply}. Last record ${job.last}.`
      : `${job.site}: ${job.state === 'closed' ? `closed ${job.last}` : job.last}`;
  return [EMPTY, ...wrapped(says, room.columns)];
}
