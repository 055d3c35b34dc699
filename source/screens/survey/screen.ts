import { foot, noticeLines, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { SurveyScreen } from '../app/state.ts';
import { beside } from '../draw/beside.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { inUnits } from '../units.ts';
import { interview } from './interview.ts';
import type { Question } from './question.ts';
import { questionLines } from './question-lines.ts';
import { isFirst, questionOf, surveyKey } from './state.ts';

const SIDE_FROM_COLUMNS = 100;
const SIDE_COLUMNS = 38;

/** The survey, question by question; Enter takes what stands as usual, and what is so assumed is marked. */
export const SURVEY: ScreenDef<SurveyScreen> = {
  keys: [
    {
      keys: ['1', '…', '9'],
      does: 'pick',
      says: 'pick',
      foot: true,
      works: ({ screen }) => questionOf(screen).kind === 'choice',
    },
    { keys: ['enter'], does: 'enter', says: 'next', foot: true },
    {
      keys: ['left', 'escape'],
      does: 'jobs',
      says: 'leave it for later: it is kept',
      foot: true,
      works: ({ screen }) => screen.typed === '' && isFirst(screen),
    },
    {
      keys: ['left', 'up'],
      does: 'before',
      says: 'the question before',
      foot: true,
      works: ({ screen }) => screen.typed === '' && !isFirst(screen),
    },
    {
      keys: ['left', 'erase'],
      does: 'erase',
      says: 'erase',
      foot: true,
      works: ({ screen }) => screen.typed !== '',
    },
    { keys: ['down'], does: 'after', says: 'the question after', foot: false },
    { keys: ['page-down'], does: 'page-down', says: 'next page', foot: false },
    {
      keys: ['escape'],
      does: 'jobs',
      says: 'leave it for later: it is kept',
      foot: true,
      works: ({ screen }) => screen.typed !== '' || !isFirst(screen),
    },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: surveyKey,
  view: (app, screen, room) => {
    const question = questionOf(screen);
    const { zones } = interview(screen.answers);
    const wide = room.columns >= SIDE_FROM_COLUMNS && !room.linear;
    const left = wide ? room.columns - SIDE_COLUMNS - 2 : room.columns;
    const held = screen.answers[question.id] ?? question.standard;
    const asked = questionLines(
      question,
      { ...screen, held },
      { ...room, columns: left },
      app.settings.units,
    );
    const side = sideLines(screen, zones, { ...room, columns: wide ? SIDE_COLUMNS : room.columns });
    // The question has the first word on the rows, then what was found, then the answers before it.
    const free = room.rows - 7 - noticeLines(app, room).length - asked.lines.length;
    const found = wide ? [] : [EMPTY, ...side].slice(0, Math.max(2, free));
    const before = answeredLines(screen, question, room, free - found.length);
    const lines = [...before, ...asked.lines];
    return {
      head: plainHead('loopward', 'new survey', room),
      body: [],
      pinned: wide ? beside(lines, side, left, SIDE_COLUMNS, room) : [...lines, ...found],
      low: noticeLines(app, room),
      foot: foot(workingRows(SURVEY.keys, { app, screen }), room),
      page: 0,
      ...(asked.cursor && { cursor: { row: before.length + asked.cursor.row, column: asked.cursor.column } }),
    };
  },
};

// The last answers stand above the question, so that one sees where one is.
function answeredLines(screen: SurveyScreen, question: Question, room: Room, free: number): readonly Line[] {
  const { asked } = interview(screen.answers);
  const at = asked.findIndex((one) => one.id === question.id);
  const most = Math.max(0, Math.min(4, free - 1));
  const rows = most === 0 ? [] : asked.slice(0, at < 0 ? asked.length : at).slice(-most);
  return [
    ...rows.map(
      (one): Line => [
        { text: `${room.glyphs.done} `, tone: 'good' },
        { text: padText(shown(one, screen.answers[one.id] ?? ''), 22), bold: true },
        { text: ` ${one.asks}`, tone: 'quiet' },
      ],
    ),
    ...(rows.length > 0 ? [EMPTY] : []),
  ];
}

function shown(question: Question, value: string): string {
  if (value === '') return 'none';
  if (value === 'unknown') return 'unknown (assumed)';
  const label = question.options.find((option) => option.id === value)?.label ?? value;
  return label.split(/ {3}|: /)[0] ?? label;
}

// What is so; what to do about it stands in the plan.
function firstSentences(findings: readonly string[]): readonly string[] {
  return findings.map((says) => says.split(/(?<=[.;]) /)[0]!.replace(/;$/, '.'));
}

function sideLines({ findings }: SurveyScreen, zones: number, room: Room): readonly Line[] {
  const count = `${zones} ${zones === 1 ? 'zone' : 'zones'} so far`;
  return [[{ text: count, bold: true }], ...findingLines(findings, room)];
}

/** What the plan would find, a sentence each. */
export function findingLines(findings: readonly string[], room: Room): readonly Line[] {
  return [
    ...firstSentences(findings.map((says) => inUnits(says, room.units)))
      .slice(0, 12)
      .flatMap((says) =>
        wrapMarked({ text: `${room.glyphs.caution} `, tone: 'caution' }, says, room.columns),
      ),
  ];
}
