import { stopsAt } from '../../job/stopped.ts';
import type { Proof, Step } from '../../procedure/step.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import type { App, OpenJob, StepScreen } from '../app/state.ts';
import type { Frame, Room } from '../draw/frame.ts';
import { EMPTY, type Line, type Span } from '../draw/line.ts';
import { wrapMarked, wrapped, wrapText } from '../draw/wrap.ts';
import type { Entry } from '../entry/state.ts';
import { answered, viewEntry } from '../entry/view.ts';
import { workingRows } from '../keys/table.ts';
import { heardLines } from '../live/heard-lines.ts';
import { planInWords } from '../plan/in-words.ts';
import { NEED_WORDS, STAGE_WORDS, STATUS_WORDS } from '../words.ts';
import { answersGiven, judgedOf } from './answers-given.ts';
import { askedProofs } from './asked-proofs.ts';
import { drawStep } from './drawing.ts';
import { STEP_KEYS } from './keys.ts';
import { openStep, stepOf } from './state.ts';

/** The field in hand, one before and one after it. */
const LEAST_ENTRY_ROWS = 9;

/** One step: cautions, the one action, why, the drawing, the entry, what comes next. */
export function viewStep(app: App, screen: StepScreen, room: Room): Frame {
  const { job } = app;
  if (!job) return { head: [], body: [], pinned: [], foot: [], page: 0 };
  const keys = workingRows(STEP_KEYS, { app, screen });
  const open = openStep(app, screen);
  const step = stepOf(job, screen.looking ?? screen.step);
  const common = {
    head: jobHead(app, room),
    low: noticeLines(app, room),
    foot: foot(keys, room),
    page: screen.page,
    turnedBy: screen.looking === null && open ? 'PgDn turns, or Enter while nothing is typed' : 'PgDn turns',
  };
  if (!step) return { ...common, body: nothingOpen(job, room), pinned: [] };
  if (screen.looking !== null || !open) {
    return { ...common, body: lookedAt(job, step, room), pinned: next(job, step, room) };
  }
  const asked = proofInHand(job, step, screen.entry);
  const card = cardOf(job, { ...step, title: open.title, why: open.why }, asked, room);
  const drawing = card.drawing.length > 0 ? [EMPTY, ...card.drawing] : [];
  const whole = [...card.cautions, ...card.title, ...card.why, ...drawing];
  const space = room.rows - 1 - common.head.length - common.low.length - common.foot.length;
  const ahead = next(job, step, room);
  const most = Math.max(7, Math.floor((room.rows - 4) * 0.62));
  const inHand = asked?.kind === 'observation' ? asked : null;
  const heard = heardLines(app, screen, step, inHand, room);
  const entryIn = (rows: number) => below(heard, viewEntry(screen.entry, room, rows - heard.length));
  const generous = entryIn(most);
  // The fields that wait give way to the card; where even so not all fits, the action stays in sight.
  const isTight = whole.length + 1 + generous.lines.length + ahead.length > space;
  const isSmall = room.rows < 24;
  const least = isSmall ? LEAST_ENTRY_ROWS - 2 : LEAST_ENTRY_ROWS;
  const entry = isTight ? entryIn(Math.min(most, least + heard.length)) : generous;
  const tail = [EMPTY, ...entry.lines, ...ahead];
  const fits = whole.length + tail.length <= space;
  const cursorAt = (above: number) =>
    entry.cursor && { cursor: { row: above + entry.cursor.row, column: entry.cursor.column } };
  if (fits) {
    // Where the cautions come from is read when looking, and here as far as there is room.
    const isRoomy = whole.length + card.sources.length + tail.length <= space;
    return { ...common, body: isRoomy ? [...whole, ...card.sources] : whole, pinned: tail, ...cursorAt(1) };
  }
  // The cautions come first with the first question; from then on the picture of what is asked for does.
  const body =
    screen.entry.at === 0 || card.drawing.length === 0
      ? [...card.cautions, ...card.why, ...drawing, ...card.sources]
      : [...card.drawing, EMPTY, ...card.cautions, ...card.why, ...card.sources];
  // On the smallest screens every row is the card's: what comes next is read on its last page.
  if (isSmall) {
    const pinned = [...card.title, ...entry.lines];
    return { ...common, body: [...body, ...ahead], pinned, ...cursorAt(card.title.length) };
  }
  return { ...common, body, pinned: [...card.title, ...tail], ...cursorAt(card.title.length + 1) };
}

/** What was heard stands above the answers. */
function below(heard: readonly Line[], entry: ReturnType<typeof viewEntry>): ReturnType<typeof viewEntry> {
  const { cursor } = entry;
  return {
    lines: [...heard, ...entry.lines],
    cursor: cursor && { row: heard.length + cursor.row, column: cursor.column },
  };
}

function proofInHand(job: OpenJob, step: Step, entry: Entry): Proof | null {
  const id = entry.fields[entry.at]?.id ?? '';
  const proofs = askedProofs(job, step);
  return (
    proofs.find(({ field }) => field === id) ??
    proofs.find(({ kind, field }) => kind === 'sweep' && id.startsWith(`${field}.`)) ??
    null
  );
}

/** `sources`: where the cautions come from, apart from what they say. */
type Card = Readonly<Record<'cautions' | 'title' | 'why' | 'drawing' | 'sources', readonly Line[]>>;

const cards = new WeakMap<OpenJob, Map<string, Card>>();

/** The card of a step. Remembered until the job moves on: from key to key only the entry changes. */
function cardOf(job: OpenJob, step: Step, asked: Proof | null, room: Room): Card {
  const { columns, glyphs, palette, linear } = room;
  const held = cards.get(job) ?? new Map<string, Card>();
  cards.set(job, held);
  const key = [step.id, step.title, asked?.field, columns, glyphs.name, palette.name, linear].join(' ');
  const card = held.get(key) ?? drawCard(job, step, asked, room);
  held.set(key, card);
  return card;
}

function drawCard(job: OpenJob, step: Step, asked: Proof | null, room: Room): Card {
  const { glyphs, columns } = room;
  const caution: Span = { text: `${glyphs.caution} `, tone: 'caution', bold: true };
  const texts = [...stopsAt(job.next.stops ?? [], step.id), ...step.cautions.map(({ text }) => text)];
  const cautions = texts.flatMap((text) => wrapMarked(caution, text, columns));
  const sources = [...new Set(step.cautions.flatMap(({ source }) => source.split('; ')))].join('; ');
  const unknown = job.status[step.id] === 'unknown';
  const drawing = step.stage === 'plan' ? planInWords(job.plan, room) : drawStep(job, step, asked, room);
  return {
    cautions: cautions.length > 0 ? [...cautions, EMPTY] : [],
    title: wrapText(step.title, columns).map((row): Line => [{ text: row, bold: true }]),
    why: [
      ...wrapText(step.why, columns).map((row): Line => [{ text: row }]),
      ...(unknown
        ? wrapMarked(
            { text: `${glyphs.doubt} `, tone: 'unproven' },
            'This step was opened before, and may be done in full or in part. Look before you answer.',
            columns,
            { bold: true },
          )
        : []),
    ],
    drawing,
    sources:
      sources === ''
        ? []
        : [EMPTY, ...wrapped(`Sources of the cautions: ${sources}`, columns, { tone: 'quiet' })],
  };
}

function lookedAt(job: OpenJob, step: Step, room: Room): readonly Line[] {
  const status = job.status[step.id] ?? 'open';
  const locked = job.next.locked.find((one) => one.id === step.id);
  const isOpen = job.next.open.some((one) => one.id === step.id);
  const entry = answersGiven(job, step);
  const { given, odd: unfit } = judgedOf(entry);
  // What was done and is not as expected never stands under a plain tick.
  const odd = { says: 'done, and not as expected', sign: 'other', tone: 'caution' } as const;
  const words = status === 'done' && unfit.length > 0 ? odd : STATUS_WORDS[status];
  const state = locked && !isOpen && status === 'open' ? `locked: ${locked.says}` : words.says;
  const mark: Span = { text: `${room.glyphs[words.sign]} `, ...(words.tone && { tone: words.tone }) };
  const card = cardOf(job, step, null, room);
  return [
    [{ text: `Looking at ${STAGE_WORDS[step.stage]}`, tone: 'quiet' }],
    ...wrapMarked(mark, state, room.columns, { bold: true }),
    ...given.map((index): Line => [{ text: '  ' }, ...answered(entry, index, room)]),
    EMPTY,
    ...card.cautions,
    ...card.title,
    ...card.why,
    ...(card.drawing.length > 0 ? [EMPTY, ...card.drawing] : []),
    ...card.sources,
    ...(step.needs === 'any'
      ? []
      : [EMPTY, [{ text: `Only ${NEED_WORDS[step.needs].replace(/^only /, '')}.`, tone: 'quiet' as const }]]),
  ];
}

function next(job: OpenJob, step: Step, room: Room): readonly Line[] {
  // After a step that was picked by hand comes the one that was offered first.
  const [first] = job.next.open;
  const then = first?.id === step.id ? job.next.after : first?.id;
  const title = job.steps.find((one) => one.id === then)?.title;
  if (title === undefined) return [];
  return wrapMarked({ text: `then ${room.glyphs.forth} `, tone: 'quiet' }, title, room.columns, {
    tone: 'quiet',
  });
}

function nothingOpen(job: OpenJob, room: Room): readonly Line[] {
  const { next: now } = job;
  if (now.closeNeeds.length === 0) {
    return [
      [{ text: `${room.glyphs.done} Every step is done.`, bold: true, tone: 'good' }],
      EMPTY,
      ...wrapText('Close the job: its record is then sealed, and only notes can be added.', room.columns).map(
        (row): Line => [{ text: row }],
      ),
    ];
  }
  const lines = now.closeNeeds;
  return [
    [{ text: 'No step is open now.', bold: true }],
    EMPTY,
    ...lines.flatMap((says) => wrapMarked({ text: `${room.glyphs.open} ` }, says, room.columns)),
  ];
}
