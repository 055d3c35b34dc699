import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import { keepDraft } from '../app/drafts.ts';
import type { ScreenDef, Situation } from '../app/screen-def.ts';
import { type App, type FormScreen, type Turn, withTop } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapped, wrapText } from '../draw/wrap.ts';
import { sayAwaited } from '../entry/awaited.ts';
import { answersOf, draftAnswers, type Entry, isTouched, newEntry, reduceEntry } from '../entry/state.ts';
import { viewEntry } from '../entry/view.ts';
import { workingRows } from '../keys/table.ts';
import { CARRY_ON_ROW } from '../unsaved/lost.ts';
import { FORMS } from './forms.ts';

// A note is a free text in one line: the library's own line of text serves it.
function isLine(screen: FormScreen): boolean {
  const answer = screen.entry.answers[0];
  return screen.form === 'note' && answer?.letters === null;
}

const isPaged = ({ turn }: Situation<FormScreen>) => (turn?.of ?? 1) > 1;

export const FORM: ScreenDef<FormScreen> = {
  keys: [
    {
      ...CARRY_ON_ROW,
      works: ({ app, screen }) => CARRY_ON_ROW.works({ app }) && screen.form !== 'carry-on',
    },
    {
      keys: ['1', '…', '9'],
      does: 'pick',
      says: 'pick',
      foot: true,
      works: ({ screen }) => offersOf(screen) > 0,
    },
    { keys: ['enter'], does: 'enter', says: 'next, record', foot: true },
    {
      keys: ['down'],
      does: 'letters',
      says: 'letters by arrows',
      foot: true,
      works: ({ screen }) => offersOf(screen) === 0 && kindOf(screen) === 'text',
    },
    {
      keys: ['left', 'erase'],
      does: 'erase',
      says: 'erase',
      foot: true,
      works: ({ screen }) => isTouched(screen.entry),
    },
    {
      keys: ['left', 'escape'],
      does: 'back',
      says: 'back, nothing is recorded',
      foot: true,
      works: ({ screen }) => !isTouched(screen.entry),
    },
    {
      keys: ['escape'],
      does: 'back',
      says: 'back, nothing is recorded',
      foot: true,
      works: ({ screen }) => isTouched(screen.entry),
    },
    { keys: ['page-down'], does: 'page-down', says: 'next page', foot: false, works: isPaged },
    { keys: ['page-up'], does: 'page-up', says: 'page before', foot: false, works: isPaged },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key, turn) => {
    if (isLine(screen) && key.name !== 'enter' && key.name !== 'down') {
      const isBack = key.name === 'escape' || (key.name === 'left' && !isTouched(screen.entry));
      return isBack ? null : [app, []];
    }
    const [entry, outcome] = reduceEntry(screen.entry, key);
    const preview = isEdited(screen.entry, entry) ? [] : screen.preview;
    if (outcome === 'unused') {
      const told = sayAwaited(screen.entry, key);
      return told && [withTop({ ...app, notice: null }, { ...screen, entry: told }), []];
    }
    const quiet = { ...app, notice: null };
    if (outcome === 'complete') return submit(quiet, { ...screen, entry, preview });
    if (outcome === 'empty' && turn.of > 1) return [withTop(app, { ...screen, page: screen.page + 1 }), []];
    const after = { ...screen, entry, preview };
    return saved(withTop(quiet, after), after);
  },
  press: (app, screen, command) => {
    if (command === 'page-down') return [withTop(app, { ...screen, page: screen.page + 1 }), []];
    if (command === 'page-up') return [withTop(app, { ...screen, page: screen.page - 1 }), []];
    if (command === 'back' && screen.preview.length > 0) {
      return [withTop(app, { ...screen, preview: [] }), []];
    }
    return null;
  },
  line: (app, screen, value) => {
    const entry = newEntry(screen.entry.fields, { [screen.entry.fields[0]!.id]: value });
    return saved(withTop(app, { ...screen, entry }), { ...screen, entry });
  },
  view: (app, screen, room) => {
    const def = FORMS[screen.form];
    const rows = workingRows(FORM.keys, { app, screen });
    const says =
      screen.preview.length > 0
        ? ['What adopting it changes:', ...screen.preview]
        : def.says(app, screen.step);
    const step = app.job?.steps.find((one) => one.id === screen.step);
    const body: Line[] = [
      [{ text: def.title, bold: true }],
      ...(step && screen.form !== 'shift' && screen.form !== 'live-source'
        ? wrapped(step.title, room.columns, { tone: 'quiet' })
        : []),
      EMPTY,
      ...says.flatMap((one) => wrapText(one, room.columns)).map((row): Line => [{ text: row }]),
    ];
    const common = {
      head: jobHead(app, room),
      body,
      low: noticeLines(app, room),
      foot: foot(rows, room),
      page: screen.page,
      turnedBy: 'PgDn turns, or Enter while nothing is typed',
    };
    const field = screen.entry.fields[0];
    if (isLine(screen) && field) {
      const value = screen.entry.answers[0]!.typed;
      const label: Line = [
        { text: `${room.glyphs.pointer} `, tone: 'focus' },
        { text: field.label, bold: true },
      ];
      return {
        ...common,
        body: [...body, EMPTY, label],
        control: { kind: 'line', id: 'note', value, placeholder: '' },
        pinned: [],
      };
    }
    const entry = viewEntry(screen.entry, room, Math.max(8, room.rows - 6 - Math.min(6, body.length)));
    return {
      ...common,
      pinned: [EMPTY, ...entry.lines],
      ...(entry.cursor && { cursor: { row: 1 + entry.cursor.row, column: entry.cursor.column } }),
    };
  },
};

// What was shown holds for the answers it was worked out from: one letter more, and it has to be shown again.
function isEdited(before: Entry, after: Entry): boolean {
  const was = answersOf(before);
  return Object.entries(answersOf(after)).some(([id, answer]) => answer !== was[id]);
}

// A correction is shown before it is adopted: the first Enter asks what it changes, the second adopts it.
function submit(app: App, screen: FormScreen): Turn {
  const { effect } = FORMS[screen.form];
  if (effect) return [withTop(app, screen), [effect(app, answersOf(screen.entry))]];
  const action = FORMS[screen.form].action(answersOf(screen.entry), screen.step, app);
  if (action.do === 'correct' && screen.preview.length === 0) {
    return [withTop(app, screen), [{ do: 'preview', set: action.set.map((one) => ({ ...one })) }]];
  }
  return [withTop(app, screen), [{ do: 'act', action }]];
}

function saved(app: App, screen: FormScreen): Turn {
  return keepDraft(app, screen.form, screen.step ?? '', draftAnswers(screen.entry));
}

function kindOf(screen: FormScreen): string | undefined {
  return screen.entry.fields[screen.entry.at]?.kind;
}

function offersOf(screen: FormScreen): number {
  const field = screen.entry.fields[screen.entry.at];
  return field?.kind === 'choice' ? field.options.length : field?.kind === 'text' ? field.offers.length : 0;
}
