import { basename } from 'node:path';
import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import { isCommand, runCommand } from '../app/commands.ts';
import type { ScreenDef, Situation } from '../app/screen-def.ts';
import { type App, type Effect, type JobsScreen, type Turn, withTop } from '../app/state.ts';
import type { Control, Room } from '../draw/frame.ts';
import { clipText, EMPTY, type Line, padText } from '../draw/line.ts';
import { wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import type { JobRow, JobsPage } from '../port.ts';
import { CARRY_ON_ROW } from '../unsaved/lost.ts';

type Item = { readonly value: string; readonly label: string };

/** More than this is not picked by a digit. */
const MOST_NUMBERED = 9;

const ASKS: Readonly<Record<string, Effect>> = {
  demo: { do: 'open-demo' },
  new: { do: 'new-survey' },
  rehearse: { do: 'offer-rehearsal', dir: null, site: 'The demo: a sailing club on a harbour' },
};

function askedBy(value: string): Effect {
  if (value.startsWith('edit ')) return { do: 'edit-survey', file: value.slice('edit '.length) };
  return ASKS[value] ?? { do: 'open-job', dir: value.slice('job '.length) };
}

type Seen = Situation<JobsScreen>;
const typing = ({ screen }: Seen) => screen.searching !== null;
const listing = ({ screen }: Seen) => screen.searching === null;
const onJob = (seen: Seen) => listing(seen) && jobUnder(seen.app, seen.screen) !== null;
const within = ({ app, screen }: Seen) =>
  screen.searching === null && (screen.others || app.jobs.find !== '');

/** The first screen: the jobs there are, the demo job, and how to begin one. */
export const JOBS: ScreenDef<JobsScreen> = {
  keys: [
    CARRY_ON_ROW,
    { keys: ['1', '…', '9'], does: 'pick', says: 'open', foot: true, works: listing },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true, works: listing },
    { keys: ['enter'], does: 'enter', says: 'open', foot: true, works: listing },
    { keys: ['o'], does: 'documents', says: 'its documents', foot: true, works: onJob },
    { keys: ['r'], does: 'rehearse', says: 'rehearse it', foot: true, works: onJob },
    {
      keys: ['page-down', 'page-up'],
      does: 'turn',
      says: 'more jobs',
      foot: false,
      works: (seen) => listing(seen) && seen.app.jobs.pages > 1,
    },
    {
      keys: ['/'],
      does: 'find',
      says: 'find a job',
      foot: true,
      works: (seen) => listing(seen) && seen.app.jobs.total > 0,
    },
    { keys: ['left', 'escape'], does: 'all-jobs', says: 'all jobs', foot: true, works: within },
    { keys: ['enter'], does: 'found', says: 'find', foot: true, works: typing },
    { keys: ['escape'], does: 'stop', says: 'stop searching', foot: true, works: typing },
    { keys: ['?'], does: 'help', says: 'all keys', foot: true, works: listing },
    { keys: ['q', 'ctrl+c', 'escape'], does: 'quit', says: 'leave the program', foot: true, works: listing },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program', foot: false, works: typing },
  ],
  take: (app, screen, key) => {
    if (screen.searching !== null) return ['enter', 'escape', 'ctrl'].includes(key.name) ? null : [app, []];
    if (app.jobs.pages < 2 || screen.others) return null;
    if (key.name === 'page-down') return listed(app, app.jobs.page + 1);
    return key.name === 'page-up' ? listed(app, app.jobs.page - 1) : null;
  },
  press: (app, screen, command) => {
    switch (command) {
      case 'find':
        return [withTop(app, { ...screen, searching: '' }), []];
      case 'stop':
        return [withTop(app, { ...screen, searching: null }), []];
      case 'found':
        return listed(app, 0, screen.searching ?? '');
      case 'all-jobs':
        return listed(app, 0, '');
    }
    const job = jobUnder(app, screen);
    if (job === null) return null;
    if (command === 'documents') return [app, [{ do: 'hand-over', dir: job.dir }]];
    if (command === 'rehearse') return [app, [{ do: 'offer-rehearsal', dir: job.dir, site: job.site }]];
    return null;
  },
  line: (app, screen, value) => [withTop(app, { ...screen, searching: value }), []],
  picked: (app, screen, value) => {
    if (value === 'find') return [withTop(app, { ...screen, searching: '' }), []];
    if (value === 'others') return [withTop(app, { ...screen, others: true, highlighted: null }), []];
    if (value === 'all-jobs') return listed(app, 0, '');
    if (value === 'more') return listed(app, (app.jobs.page + 1) % app.jobs.pages);
    return isCommand(value) ? runCommand(app, value) : [app, [askedBy(value)]];
  },
  view: (app, screen, room) => ({
    head: plainHead('loopward', screen.others ? 'what else' : 'jobs', room),
    body: [...opening(app, screen, room), EMPTY],
    control: controlOf(app, screen, room),
    low: noticeLines(app, room),
    pinned: screen.searching === null ? inFull(app, screen, room) : [],
    foot: foot(workingRows(JOBS.keys, { app, screen }), room),
    page: 0,
  }),
};

function listed(app: App, page: number, find = app.jobs.find): Turn {
  return [
    app,
    [{ do: 'list-jobs', wanted: { page: Math.max(0, Math.min(page, app.jobs.pages - 1)), find } }],
  ];
}

function opening({ jobs }: App, screen: JobsScreen, room: Room): readonly Line[] {
  // Said to whoever comes for the first time; from then on the rows belong to the jobs.
  if (jobs.total === 0)
    return wrapped(
      'Leads the changeover of an old hard-wired alarm panel to a networked 12 V input board, step by step, and keeps the record.',
      room.columns,
      { tone: 'quiet' },
    );
  if (screen.searching !== null || screen.others || (jobs.pages === 1 && jobs.find === '')) return [];
  const which = jobs.find === '' ? '' : ` with “${jobs.find}”`;
  const page = jobs.pages === 1 ? '' : `, page ${jobs.page + 1} of ${jobs.pages}`;
  return [[{ text: `${counted(jobs.found)}${which}${page}`, tone: 'quiet' }]];
}

function counted(jobs: number): string {
  if (jobs === 0) return 'No job';
  return jobs === 1 ? '1 job' : `${jobs} jobs`;
}

function controlOf(app: App, screen: JobsScreen, room: Room): Control {
  if (screen.searching !== null)
    return {
      kind: 'line',
      id: 'find',
      value: screen.searching,
      placeholder: 'words of its place, address, folder',
    };
  const jobs = app.jobs.rows.map((job) => ({ value: `job ${job.dir}`, label: jobLabel(job, room.columns) }));
  const others = othersOf(app);
  const { page, find } = app.jobs;
  if (screen.others) return { kind: 'list', id: 'others', items: others, initial: 0 };
  const all = [...jobs, ...others];
  const items = fits(app.jobs, all.length) ? all : [...jobs, ...shortOf(app.jobs)];
  return { kind: 'list', id: `jobs ${page} ${find}`, items, initial: 0 };
}

/** Whether one list takes everything, each with a digit of its own. */
function fits({ pages, find }: JobsPage, items: number): boolean {
  return pages === 1 && find === '' && items <= MOST_NUMBERED;
}

function shortOf({ page, pages, find }: JobsPage): readonly Item[] {
  const next = ((page + 1) % pages) + 1;
  return [
    ...(pages > 1 ? [{ value: 'more', label: `More jobs: page ${next} of ${pages}` }] : []),
    { value: 'find', label: 'Find a job by its place, address or folder' },
    find === ''
      ? { value: 'others', label: 'Something else: a new job, a survey, the demo, a rehearsal' }
      : { value: 'all-jobs', label: 'All jobs' },
  ];
}

function othersOf({ surveys }: App): readonly Item[] {
  return [
    { value: 'new', label: 'A new job: survey the old installation' },
    ...surveys.map((file) => ({ value: `edit ${file}`, label: `Change the survey ${basename(file)}` })),
    { value: 'survey-file', label: 'A survey that is written already: type where it is' },
    { value: 'demo', label: 'The demo job: a sailing club on a harbour' },
    { value: 'rehearse', label: 'A rehearsal: a simulated building with faults' },
    { value: 'help', label: 'All keys' },
    { value: 'quit', label: 'Leave the program' },
  ];
}

function jobLabel(job: JobRow, columns: number): string {
  const wide = Math.max(18, Math.floor(columns / 3));
  const name = clipText(job.rehearsal ? `REHEARSAL ${job.site}` : job.site, wide);
  const standing = job.state === 'open' ? `${job.done} of ${job.total}` : STATES[job.state];
  return `${padText(name, wide)} ${[padText(standing, 9), job.day, job.place].join('  ').trimEnd()}`;
}

const STATES = { closed: 'closed', unreadable: 'cannot be read' } as const;

function jobUnder({ jobs }: App, { highlighted, others }: JobsScreen): JobRow | null {
  if (others) return null;
  const first = highlighted === null ? jobs.rows[0] : undefined;
  return jobs.rows.find((one) => `job ${one.dir}` === highlighted) ?? first ?? null;
}

// The job under the mark in full, whatever its row had to leave out.
function inFull(app: App, screen: JobsScreen, room: Room): readonly Line[] {
  const job = jobUnder(app, screen);
  if (job === null) return [];
  const where = job.place === '' ? job.site : `${job.site}, ${job.place}`;
  const says = {
    open: `${where}: ${job.stage}, ${job.done} of ${job.total}. Supply: ${job.supply}. Last record ${job.last}.`,
    closed: `${where}: closed ${job.last}.`,
    unreadable: `${where}: ${job.last}`,
  }[job.state];
  return [EMPTY, ...wrapped(`${says} Folder ${basename(job.dir)}.`, room.columns)];
}
