import { formatQuantity } from '../../electrical/quantity.ts';
import type { Step } from '../../procedure/step.ts';
import type { Act } from '../../wiring/act.ts';
import { foot, jobHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { OpenJob, Screen } from '../app/state.ts';
import { bigText, bigWidth } from '../draw/big.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapped } from '../draw/wrap.ts';

type Far = Extract<Screen, { kind: 'far' }>;

/** The step in letters that are read from across the room: where, which colour, what figure. */
export const FAR: ScreenDef<Far> = {
  keys: [
    { keys: ['enter', 'left', 'escape', 'f'], does: 'back', says: 'back to the step', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  view: (app, screen, room) => {
    const step = app.job?.steps.find((one) => one.id === screen.step);
    const texts = app.job && step ? farTexts(app.job, step) : [];
    const says = texts.length > 0 ? texts : step ? [step.title] : [];
    const isWhole = room.linear || texts.length === 0;
    const isFigured = step !== undefined && figureOf(step) !== null;
    // Every row counts here: three texts of five rows have to stand on the smallest screen.
    const space = room.rows - 1 - 2;
    return {
      head: jobHead(app, room).slice(0, 1),
      body: isWhole
        ? says.flatMap((text) => wrapped(text, room.columns, { bold: true }))
        : large(says, room, space),
      pinned: [],
      foot: foot(FAR.keys, room)
        .slice(1)
        .map(
          (line, at): Line =>
            at === 0 && isFigured ? [...line, { text: '   the figure is EXPECTED' }] : line,
        ),
      page: 0,
    };
  },
};

/** Three short texts at most: screw or terminal, colour, expected figure; none where the step has none of them. */
function farTexts(job: OpenJob, step: Step): readonly string[] {
  const place = step.acts.map(placeOf).find((text) => text !== null) ?? null;
  const conductor =
    step.acts.map(conductorOf).find((id) => id !== null) ?? step.about.find((id) => id.includes('/'));
  const colour = job.plan.wiring.conductors.find((one) => one.id === conductor)?.colour ?? null;
  const figure = figureOf(step);
  return [place, colour, figure].filter((text): text is string => text !== null);
}

function placeOf(act: Act): string | null {
  if ('at' in act) return act.at.replace(/^old:/, '').replace(':', ' ');
  return 'conductor' in act ? act.conductor : null;
}

function conductorOf(act: Act): string | null {
  if (act.do === 'part') return act.conductors[0] ?? null;
  return 'conductor' in act ? act.conductor : null;
}

function figureOf(step: Step): string | null {
  const reading = step.proof.find((proof) => proof.kind === 'reading');
  if (reading?.kind !== 'reading') return null;
  if (reading.open === 'must') return 'OL';
  const quantity = reading.of === 'ohms' ? 'ohms' : reading.of === 'amps' ? 'amps' : 'volts';
  return reading.nominal === null ? null : formatQuantity(reading.nominal, quantity).replace(/\s/g, '');
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
