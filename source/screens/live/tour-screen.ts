import type { TourState, TourStop } from '../../job/hearing/tour.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef, Situation } from '../app/screen-def.ts';
import { type App, type Effect, type Screen, type Turn, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText, type Span } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { goToStep } from '../step/state.ts';
import { clockTime, deafLines } from './heard-lines.ts';
import { confirmStop, newTour, statesOf } from './state.ts';

type TourScreen = Extract<Screen, { kind: 'tour' }>;

const isAsking = ({ screen }: Situation<TourScreen>) => screen.asking !== null;
const isFree = (situation: Situation<TourScreen>) => !isAsking(situation);

/** The walk through the building: each detector is ticked as it is heard, and recorded once somebody confirms it. */
export const TOUR: ScreenDef<TourScreen> = {
  keys: [
    { keys: ['1'], does: 'yes', says: 'yes, record it', foot: true, works: isAsking },
    { keys: ['0', 'escape', 'left'], does: 'no', says: 'no, back', foot: true, works: isAsking },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true, works: isFree },
    { keys: ['enter'], does: 'take', says: 'record it, or look into it', foot: true, works: isFree },
    { keys: ['5', 'a'], does: 'all', says: 'all as heard', foot: true, works: isFree },
    { keys: ['9', 'n'], does: 'anew', says: 'begin the tour anew', foot: true, works: isFree },
    { keys: ['left', 'escape'], does: 'back', says: 'back, it goes on hearing', foot: true, works: isFree },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, screen, command) => {
    const move = (at: number): Turn => {
      const last = (app.tour?.stops.length ?? 1) - 1;
      return [withTop(app, { ...screen, at: Math.max(0, Math.min(last, at)) }), []];
    };
    switch (command) {
      case 'move':
        return null;
      case 'take':
        return take(app, screen);
      case 'all':
        return [withTop(app, { ...screen, asking: 'all' }), []];
      case 'no':
        return [withTop(app, { ...screen, asking: null }), []];
      case 'yes':
        return record(withTop(app, { ...screen, asking: null }), wanted(app, screen));
      case 'anew':
        return app.job
          ? [{ ...withTop(app, { ...screen, at: 0 }), tour: newTour(app.job, app.live?.heard?.seq ?? 0) }, []]
          : [app, []];
      default:
        return move(screen.at);
    }
  },
  take: (app, screen, key) => {
    if (screen.asking !== null || (key.name !== 'up' && key.name !== 'down')) return null;
    const at = screen.at + (key.name === 'up' ? -1 : 1);
    const last = (app.tour?.stops.length ?? 1) - 1;
    return [withTop({ ...app, notice: null }, { ...screen, at: Math.max(0, Math.min(last, at)) }), []];
  },
  view: (app, screen, room) => {
    const lines = stopLines(app, screen, room);
    const deaf = app.live?.heard ? deafLines(app.live.heard, room) : notListening(room);
    const space = Math.max(3, room.rows - 9 - deaf.length);
    const from = Math.max(0, Math.min(lines.length - space, screen.at - Math.floor(space / 2)));
    return {
      head: jobHead(app, room, `tour: ${countOf(app)} of ${app.tour?.stops.length ?? 0} heard`),
      body: [...lines.slice(from, from + space)],
      pinned: [...(room.rows > 22 ? [EMPTY] : []), ...detail(app, screen, room), ...deaf],
      low: noticeLines(app, room),
      foot: foot(workingRows(TOUR.keys, { app, screen }), room, 2),
      page: 0,
    };
  },
};

function countOf(app: App): number {
  return (app.tour?.stops ?? []).filter(
    (stop, at) => isRecorded(app, stop) || statesOf(app)[at]?.is === 'heard',
  ).length;
}

const isRecorded = ({ job }: App, { step }: TourStop) => job?.status[step] === 'done';

function notListening(room: Room): readonly Line[] {
  return wrapMarked(
    { text: `${room.glyphs.failed} `, tone: 'bad', bold: true },
    'Nobody listens. Press Esc, then 1.',
    room.columns,
  );
}

/** Which stops a question is about, or Enter records at once. */
function wanted(app: App, screen: TourScreen): readonly number[] {
  if (screen.asking === 'this') return [screen.at];
  return statesOf(app).flatMap(({ is }, at) => (is === 'heard' ? [at] : []));
}

function take(app: App, screen: TourScreen): Turn {
  const stop = app.tour?.stops[screen.at];
  const state = statesOf(app)[screen.at];
  if (!stop || !state || isRecorded(app, stop)) return [app, []];
  if (state.is === 'heard') return record(app, [screen.at]);
  // Heard at another one's turn: only who walked knows whether it was worked then.
  if (state.is === 'out-of-turn' && state.pulse.restoredAt !== null)
    return [withTop(app, { ...screen, asking: 'this' }), []];
  return goToStep(app, stop.step);
}

function record(app: App, at: readonly number[]): Turn {
  const states = statesOf(app);
  const effects = at.flatMap((index): Effect[] => {
    const stop = app.tour?.stops[index];
    const state = states[index];
    const action = stop && state && !isRecorded(app, stop) ? confirmStop(app, stop, state) : null;
    return action === null ? [] : [{ do: 'act', action }];
  });
  return [app, effects];
}

function stopLines(app: App, screen: TourScreen, room: Room): readonly Line[] {
  const states = statesOf(app);
  const stops = app.tour?.stops ?? [];
  return stops.map((stop, at): Line => {
    const { sign, tone, says } = isRecorded(app, stop)
      ? ({ sign: 'done', tone: 'good', says: 'recorded' } as const)
      : wordsOf(app, states[at] ?? { is: 'waiting' }, at);
    const here = at === screen.at;
    const mark: Span = { text: here ? room.glyphs.pointer : ' ', tone: 'focus', bold: true };
    const name = padText(nameOf(app, stop), Math.min(34, Math.floor(room.columns / 2) - 6));
    return [
      mark,
      { text: `${`${at + 1}`.padStart(3)} ` },
      { text: `${room.glyphs[sign]} `, ...(tone && { tone }), bold: true },
      { text: `${name} `, bold: here },
      { text: says, ...(tone && { tone }) },
    ];
  });
}

function nameOf({ job }: App, { detector, id }: TourStop): string {
  return `${job?.plan.survey.detectors.find((one) => one.id === detector)?.name ?? detector} (${id})`;
}

type Words = {
  readonly sign: 'done' | 'caution' | 'failed' | 'open' | 'other';
  readonly tone: 'good' | 'caution' | 'bad' | undefined;
  readonly says: string;
};

function wordsOf(app: App, state: TourState, at: number): Words {
  const odd = (says: string): Words => ({ sign: 'caution', tone: 'caution', says });
  switch (state.is) {
    case 'waiting':
      return { sign: 'open', tone: undefined, says: isNext(app, at) ? 'next' : '' };
    case 'worked':
      return odd(`worked ${clockTime(state.pulse.workedAt)}, not restored`);
    case 'heard':
      return { sign: 'done', tone: 'good', says: `heard ${clockTime(state.pulse.workedAt)}` };
    case 'chatters':
      return odd(`chatters: ${state.pulse.times} times at once`);
    case 'together':
      return odd(`together with ${state.others.join(', ')}`);
    case 'elsewhere':
      return odd(`asked ${app.tour?.stops[at]?.id}, heard ${state.heard}`);
    case 'out-of-turn':
      return odd(`heard ${clockTime(state.pulse.workedAt)}, when ${numberOf(app, state.asked)} was asked`);
    case 'exchanged':
      return { sign: 'failed', tone: 'bad', says: `exchanged with ${numberOf(app, state.with)}` };
  }
}

const numberOf = ({ tour }: App, at: number) =>
  at < (tour?.stops.length ?? 0) ? `${at + 1} (${tour?.stops[at]?.id})` : 'none';

function isNext(app: App, at: number): boolean {
  return statesOf(app).findIndex(({ is }) => is === 'waiting') === at;
}

/** What to do about the line in hand. */
function detail(app: App, screen: TourScreen, room: Room): readonly Line[] {
  const state = statesOf(app)[screen.at];
  const stop = app.tour?.stops[screen.at];
  const ask = (says: string) =>
    wrapMarked({ text: `${room.glyphs.pointer} `, tone: 'focus', bold: true }, says, room.columns, {
      bold: true,
    });
  if (screen.asking === 'all') {
    const count = wanted(app, screen).filter((at) => !isRecorded(app, app.tour!.stops[at]!)).length;
    const all =
      count === 1
        ? 'the one that is ticked, by itself'
        : `all ${count} that are ticked, each by itself and in this order`;
    return ask(`Did you work ${all}? 1 records it as heard.`);
  }
  if (screen.asking === 'this') return ask('Did you work this detector when it was heard? 1 records it.');
  const says = state && stop && !isRecorded(app, stop) ? DETAIL[state.is] : null;
  return says === null ? [] : wrapMarked({ text: '  ' }, says, room.columns);
}

const DETAIL: Readonly<Record<TourState['is'], string | null>> = {
  waiting: 'Walk in the order of the list: only so are two exchanged landings told apart.',
  worked: 'Restore it. If it is restored, it may hang: Enter opens its card.',
  heard: 'Enter records it as it was heard.',
  chatters: 'A contact or a screw that is loose, as a rule. Enter opens its card.',
  together: 'Two moved in one moment: worked both, or wired together. Enter opens its card.',
  elsewhere:
    'Landed on another input, or walked out of order. Enter opens its card, which ranks what may be behind it.',
  'out-of-turn': 'Worked then? Enter asks. If not, the one whose turn it was is landed here.',
  exchanged:
    'Each was heard at the other’s turn: exchanged landings, unless you walked them so. Enter opens its card.',
};
