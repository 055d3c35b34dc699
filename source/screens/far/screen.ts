import type { Step } from '../../procedure/step.ts';
import type { Act } from '../../wiring/act.ts';
import { foot, jobHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { OpenJob, Screen } from '../app/state.ts';
import { bigText, bigWidth } from '../draw/big.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { windowWords } from '../draw/scale.ts';
import { wrapped } from '../draw/wrap.ts';
import { type Field, fieldsOf } from '../entry/field.ts';
import { windowsOf } from '../entry/verdict.ts';
import { askedProofs } from '../step/asked-proofs.ts';

type Far = Extract<Screen, { kind: 'far' }>;

/** Rows of a letter that is read from across the room. */
const LEAST_HEIGHT = 5;

/** The step from across the room: where and which colour in large letters, and what is measured or chosen there in words. */
export const FAR: ScreenDef<Far> = {
  keys: [
    { keys: ['enter', 'left', 'escape', 'f'], does: 'back', says: 'back to the step', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  view: (app, screen, room) => {
    const { job } = app;
    const step = job?.steps.find((one) => one.id === screen.step);
    const texts = job && step ? farTexts(job, step) : [];
    const isWhole = room.linear || texts.length === 0;
    // Every row counts here: two texts of five rows have to stand on the smallest screen, and what is asked below them.
    const space = room.rows - 1 - 2;
    const asked =
      job && step ? fieldsOf(askedProofs(job, step)).flatMap((field) => askedRows(field, room)) : [];
    const title = step ? wrapped(step.title, room.columns, { bold: true }) : [];
    const most = space - texts.length * (LEAST_HEIGHT + 1);
    const shown = isWhole ? asked : asked.slice(0, Math.max(0, most));
    return {
      head: jobHead(app, room).slice(0, 1),
      body: isWhole
        ? [
            ...title,
            ...texts.map((text): Line => [{ text, bold: true }]),
            ...(asked.length > 0 ? [EMPTY] : []),
            ...shown,
          ]
        : [...large(texts, room, space - shown.length - 1), EMPTY, ...shown],
      pinned: [],
      foot: foot(FAR.keys, room).slice(1),
      page: 0,
    };
  },
};

// No figure in large letters: what is expected would be read from across the room as what was measured.
function askedRows(field: Field, room: Room): readonly Line[] {
  const windows = field.kind === 'reading' ? windowsOf(field) : null;
  const options =
    field.kind === 'choice' ? field.options.map(({ label }, index) => `  ${index + 1}  ${label}`) : [];
  return [
    ...wrapped(field.label, room.columns, { bold: true }),
    ...(windows === null ? [] : wrapped(`  ${windowWords(windows)}`, room.columns)),
    ...options.flatMap((option) => wrapped(option, room.columns)),
  ];
}

/** Two short texts at most: screw or terminal, and colour; none where the step has none of them. */
function farTexts(job: OpenJob, step: Step): readonly string[] {
  const place = step.acts.map(placeOf).find((text) => text !== null) ?? null;
  const conductor =
    step.acts.map(conductorOf).find((id) => id !== null) ?? step.about.find((id) => id.includes('/'));
  const colour = job.plan.wiring.conductors.find((one) => one.id === conductor)?.colour ?? null;
  return [place, colour].filter((text): text is string => text !== null);
}

function placeOf(act: Act): string | null {
  if ('at' in act) return act.at.replace(/^old:/, '').replace(':', ' ');
  return 'conductor' in act ? act.conductor : null;
}

function conductorOf(act: Act): string | null {
  if (act.do === 'part') return act.conductors[0] ?? null;
  return 'conductor' in act ? act.conductor : null;
}

function large(texts: readonly string[], room: Room, space: number): readonly Line[] {
  const rows = texts.flatMap((text) => split(text, room.columns));
  const fit = rows.slice(0, Math.max(1, Math.floor((space + 1) / 6)));
  const each = Math.max(5, Math.floor((space - fit.length + 1) / fit.length));
  return fit.flatMap((text, index) => {
    const lines = (bigText(text, room.columns, each, room.glyphs) ?? [text]).map(
      (row): Line => [{ text: row, bold: true }],
    );
    return index === 0 ? lines : [EMPTY, ...lines];
  });
}

// A text too wide even in the smallest letters is broken at a space or a stroke.
function split(text: string, columns: number): readonly string[] {
  if (bigWidth(text) <= columns) return [text];
  const parts = text.split(/(?<=[\s/])/);
  if (parts.length === 1) return [text.slice(0, Math.floor(columns / 5))];
  return parts.map((part) => part.trim());
}
