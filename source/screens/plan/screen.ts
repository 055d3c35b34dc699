import type { Finding, Plan } from '../../plan/plan.ts';
import { figureName, figureWords } from '../../plan/text/words.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type Screen, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Glyphs } from '../draw/glyphs.ts';
import { EMPTY, type Line, type Span } from '../draw/line.ts';
import { windowed } from '../draw/windowed.ts';
import { wrapMarked, wrapped } from '../draw/wrap.ts';
import { workingRows } from '../keys/table.ts';
import { inUnits } from '../units.ts';
import { SEVERITY_WORDS, VERDICT_WORDS } from './in-words.ts';
import { PLAN_PARTS } from './parts.ts';

type PlanScreen = Extract<Screen, { kind: 'plan' }>;

/** The plan in parts: turned with right or by number, read with up and down; a finding opens with Enter. */
export const PLAN: ScreenDef<PlanScreen> = {
  keys: [
    { keys: ['1', '…', '6'], does: 'part-number', says: 'part', foot: true },
    { keys: ['right'], does: 'part', says: 'next part', foot: true },
    { keys: ['up', 'down'], does: 'move', says: 'move', foot: true },
    {
      keys: ['enter'],
      does: 'open',
      says: 'open or shut the finding',
      foot: true,
      works: ({ screen }) => screen.part === 0,
    },
    { keys: ['page-up', 'page-down'], does: 'page', says: 'by pages', foot: false },
    { keys: ['left', 'escape', '0'], does: 'back', says: 'back', foot: true },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key) => {
    const plan = app.job?.plan;
    if (!plan) return null;
    const parts = PLAN_PARTS.length;
    if (key.name === 'right') {
      const part = (screen.part + 1) % parts;
      return [withTop(app, { kind: 'plan', part, at: 0, opened: false }), []];
    }
    if (key.name === 'char' && /^[1-6]$/.test(key.char))
      return [withTop(app, { kind: 'plan', part: Number(key.char) - 1, at: 0, opened: false }), []];
    if (key.name === 'enter' && screen.part === 0)
      return [withTop(app, { ...screen, opened: !screen.opened }), []];
    const page = Math.max(1, app.size.rows - 8);
    const by = { up: -1, down: 1, 'page-up': -page, 'page-down': page, home: -1e6, end: 1e6 }[
      key.name as string
    ];
    if (by === undefined) return null;
    const room = { columns: app.size.columns, rows: app.size.rows };
    const count = screen.part === 0 ? plan.findings.length : lengthOf(plan, screen.part, room);
    const last = screen.part === 0 ? count - 1 : Math.max(0, count - page);
    return [withTop(app, { ...screen, at: Math.min(Math.max(0, last), Math.max(0, screen.at + by)) }), []];
  },
  view: (app, screen, room) => {
    const plan = app.job?.plan;
    if (!plan) return { head: [], body: [], pinned: [], foot: [], page: 0 };
    const space = room.rows - 1 - 2 - 3 - 2 - findingInFull(plan, screen, room).length;
    const tabs = PLAN_PARTS.map(
      (part, index): Span =>
        index === screen.part
          ? { text: `[${part.title}] `, bold: true, tone: 'focus' }
          : { text: `${part.title} ` },
    );
    const body =
      screen.part === 0
        ? findingLines(plan, screen, room, space)
        : scrolled(partLines(plan, screen.part, room), screen.at, space, room);
    return {
      head: jobHead(app, room, 'Plan'),
      body: [tabs, EMPTY, ...body],
      pinned: findingInFull(plan, screen, room),
      low: noticeLines(app, room),
      foot: foot(workingRows(PLAN.keys, { app, screen }), room),
      page: 0,
    };
  },
};

// How many rows a part takes does not depend on its signs, only on its width.
function lengthOf(plan: Plan, part: number, size: { columns: number; rows: number }): number {
  const glyphs = new Proxy({}, { get: () => '.' }) as Glyphs;
  const palette = { name: 'none', background: '', text: '', tones: {} } as const;
  return partLines(plan, part, { ...size, glyphs, palette, linear: false, units: 'metric' }).length;
}

const parts = new WeakMap<Plan, Map<string, readonly Line[]>>();

// Drawn once for each width: a large site is scrolled as quickly as a small one.
function partLines(plan: Plan, part: number, room: Room): readonly Line[] {
  const held = parts.get(plan) ?? new Map<string, readonly Line[]>();
  parts.set(plan, held);
  const key = [part, room.columns, room.glyphs.name, room.units].join(' ');
  const lines = held.get(key) ?? PLAN_PARTS[part]!.lines(plan, room);
  held.set(key, lines);
  return lines;
}

function scrolled(lines: readonly Line[], at: number, space: number, room: Room): readonly Line[] {
  if (lines.length <= space) return lines;
  const rows = lines.slice(at, at + space - 1);
  const says = `${room.glyphs.more} ${at + 1} to ${at + rows.length} of ${lines.length}`;
  return [...rows, [{ text: says, tone: 'focus' }]];
}

function findingLines(plan: Plan, screen: PlanScreen, room: Room, space: number): readonly Line[] {
  const verdict = VERDICT_WORDS[plan.verdict];
  const head: readonly Line[] = [
    [
      { text: `${room.glyphs[verdict.sign]} `, tone: verdict.tone, bold: true },
      { text: verdict.says, bold: true },
    ],
    EMPTY,
  ];
  const opened = screen.opened ? plan.findings[screen.at] : undefined;
  if (opened) return [...head, ...openedFinding(opened, room)];
  const rows = plan.findings.map((finding, index) => findingRow(finding, index === screen.at, room));
  return [...head, ...windowed(rows, screen.at, space - head.length)];
}

// The list is one row a finding; the one in hand stands below it in full.
function findingInFull(plan: Plan, screen: PlanScreen, room: Room): readonly Line[] {
  const finding = screen.part === 0 && !screen.opened ? plan.findings[screen.at] : undefined;
  return finding ? [EMPTY, ...wrapped(inUnits(finding.message, room.units), room.columns)] : [];
}

function findingRow(finding: Finding, here: boolean, room: Room): Line {
  const severity = SEVERITY_WORDS[finding.severity];
  return [
    here ? { text: `${room.glyphs.pointer} `, tone: 'focus', bold: true } : { text: '  ' },
    { text: `${room.glyphs[severity.sign]} ${severity.says.padEnd(8)}`, tone: severity.tone, bold: true },
    { text: inUnits(finding.message, room.units), bold: here },
  ];
}

function openedFinding(finding: Finding, room: Room): readonly Line[] {
  const severity = SEVERITY_WORDS[finding.severity];
  return [
    [
      { text: `${room.glyphs[severity.sign]} ${severity.says}`, tone: severity.tone, bold: true },
      { text: `  ${finding.code}`, tone: 'quiet' },
    ],
    EMPTY,
    ...wrapMarked({ text: '' }, inUnits(finding.message, room.units), room.columns),
    EMPTY,
    ...(finding.about.length > 0
      ? wrapMarked({ text: 'about   ', tone: 'quiet' }, finding.about.join(', '), room.columns)
      : []),
    ...Object.entries(finding.figures).flatMap(([name, value]) =>
      wrapMarked(
        { text: '        ' },
        `${figureName(name)}: ${inUnits(figureWords(name, value), room.units)}`,
        room.columns,
      ),
    ),
  ];
}
