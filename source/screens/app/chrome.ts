import type { Stage } from '../../procedure/step.ts';
import type { Room } from '../draw/frame.ts';
import { clipText, type Line, lineWidth, type Span, spread, widthOf } from '../draw/line.ts';
import { wrapped, wrapText } from '../draw/wrap.ts';
import { type KeyRow, showKey } from '../keys/table.ts';
import type { LiveState } from '../live/state.ts';
import { STAGE_WORDS, SUPPLY_WORDS } from '../words.ts';
import type { App } from './state.ts';
import { stepInHand } from './step-in-hand.ts';

/**
 * The top of every screen of a job: what it is, the stage, the place, the supply state in words; below it the
 * way already gone as a rule.
 */
export function jobHead(app: App, room: Room, title?: string): readonly Line[] {
  const { job } = app;
  if (!job) return plainHead('loopward', title ?? '', room);
  const { next } = job;
  const supply = SUPPLY_WORDS[next.supply];
  const right: Line = [
    { text: `[ ${room.columns < 76 ? supply.short : supply.says} ]`, tone: supply.tone, bold: true },
  ];
  const name = job.rehearsal ? `REHEARSAL ${job.siteName}` : job.siteName;
  const place = `${Math.min(next.done + 1, next.total)} of ${next.total}`;
  const tail =
    title ??
    `${STAGE_WORDS[stageInHand(app) ?? next.stage]} ${room.glyphs.dot} ${next.closed ? 'closed' : place}`;
  const room1 = room.columns - lineWidth(right) - tail.length - 5;
  const left: Line = [
    { text: `${clipText(name, Math.max(8, room1), room.glyphs.cut)} ${room.glyphs.dot} ` },
    { text: tail, bold: true },
  ];
  const share = next.total === 0 ? 0 : next.done / next.total;
  const way = progress(share, room);
  return [
    spread(left, right, room.columns, room.glyphs.cut),
    ...(app.live?.listening ? [spread(way, listeningTo(app.live, room), room.columns)] : [way]),
  ];
}

// What it listens to is never out of sight while it does.
function listeningTo({ heard, setup: { source } }: LiveState, { glyphs }: Room): Line {
  const to = source?.kind === 'mqtt' ? source.url.replace(/^mqtts?:\/\//, '') : `port ${source?.port ?? ''}`;
  if (heard?.hears) return [{ text: `${glyphs.done} hears ${to}`, tone: 'good' }];
  return [
    { text: heard === null ? `calling ${to}` : `${glyphs.failed} DEAF ${to}`, tone: 'bad', bold: true },
  ];
}

// The stage of the card that is seen: proofs and isolations come up wherever the supply asks for them.
function stageInHand(app: App): Stage | null {
  const id = stepInHand(app);
  return app.job?.steps.find((step) => step.id === id)?.stage ?? null;
}

/** The head of a screen that belongs to no job: a name and a title over a rule. */
export function plainHead(name: string, title: string, room: Room): readonly Line[] {
  const left: Line = [
    { text: name, bold: true },
    ...(title === '' ? [] : [{ text: ` ${room.glyphs.dot} ${title}` }]),
  ];
  return [
    spread(left, [], room.columns),
    [{ text: room.glyphs.rule.repeat(Math.min(40, Math.floor(room.columns / 2))) }],
  ];
}

function progress(share: number, room: Room): Line {
  const cells = Math.min(40, Math.floor(room.columns / 2));
  const gone = Math.round(share * cells);
  return [{ text: room.glyphs.ruleDone.repeat(gone) + room.glyphs.rule.repeat(cells - gone) }];
}

/** What leads out of a screen, or to help, stays at the foot when not all keys fit. */
const VITAL: ReadonlySet<string> = new Set([
  'doubt',
  'back',
  'go',
  'shift',
  'quit',
  'help',
  'jobs',
  'home',
  'menu',
  'shut',
  'stop-looking',
]);

/** The keys that work now, as many as fit on the rows given; the help has them all. */
export function foot(
  rows: readonly KeyRow<string, never>[],
  room: Room,
  most = room.columns < 100 ? 2 : 1,
): readonly Line[] {
  let kept = rows.filter((one) => one.foot);
  let lines = packed(kept, room);
  while (lines.length > most) {
    const at = kept.findLastIndex((row) => !VITAL.has(row.does));
    if (at < 0) break;
    kept = kept.toSpliced(at, 1);
    lines = packed(kept, room);
  }
  return [[], ...lines.slice(0, most)];
}

function packed(rows: readonly KeyRow<string, never>[], room: Room): readonly Line[] {
  const lines: Span[][] = [[]];
  let used = 0;
  for (const row of rows) {
    const key = keysShown(row, room);
    const wide = widthOf(key) + 1 + widthOf(row.says);
    if (used > 0 && used + 3 + wide > room.columns) {
      lines.push([]);
      used = 0;
    }
    const gap = used > 0 ? '   ' : '';
    lines.at(-1)!.push({ text: `${gap}${key}`, bold: true }, { text: ` ${row.says}` });
    used += gap.length + wide;
  }
  return lines;
}

/** Keys that do the same to and fro: they stand beside each other. */
const PAIRED: ReadonlySet<string> = new Set(['up', 'down', 'page-up', 'page-down', 'home', 'end']);

/** The keys of a row as they are written at the foot and in help. */
export function keysShown(row: KeyRow<string, never>, room: Room): string {
  const signs: Readonly<Record<string, string>> = {
    up: room.glyphs.up,
    down: room.glyphs.down,
    left: room.glyphs.back,
    right: room.glyphs.forth,
  };
  const shown = row.keys.map((key) => (room.linear ? undefined : signs[key]) ?? showKey(key));
  if (row.keys.includes('…')) return `${shown[0]}-${shown.at(-1)}`;
  if (shown.length === 1 || row.keys.every((key) => PAIRED.has(key))) return shown.join(' ');
  // Either of them, and not one after the other.
  return `${shown.slice(0, -1).join(', ')} or ${shown.at(-1)}`;
}

/** What just happened, in one sentence and the reasons behind it. */
export function noticeLines(app: App, room: Room): readonly Line[] {
  const { notice } = app;
  if (!notice) return [];
  const sign = { good: room.glyphs.done, caution: room.glyphs.caution, bad: room.glyphs.failed }[notice.tone];
  const says = wrapText(notice.says, room.columns - 2).map(
    (row, index): Line => [
      { text: index === 0 ? `${sign} ` : '  ', tone: notice.tone },
      { text: row, tone: notice.tone, bold: true },
    ],
  );
  return [...says, ...notice.more.flatMap((more) => wrapped(`  ${more}`, room.columns))];
}
