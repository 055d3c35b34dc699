import type { Connection, Plan } from '../plan/plan.ts';
import { toCsv } from './csv.ts';
import { servesWords } from './drawing/strip.ts';

/** What goes on one conductor before it leaves its screw. */
export type WireLabel = {
  readonly conductor: string;
  readonly colour: string;
  readonly from: string;
  readonly to: string;
  readonly serves: string;
};

/** A sheet of labels: figures in millimetres. */
export type LabelSheet = {
  readonly name: string;
  readonly page: { readonly width: number; readonly height: number };
  readonly columns: number;
  readonly rows: number;
  readonly label: { readonly width: number; readonly height: number };
  readonly margin: { readonly left: number; readonly top: number };
  readonly gap: { readonly across: number; readonly down: number };
};

/** Two sizes that stationers sell in many makes: 65 on A4, 80 on US letter. Common practice, no source. */
export const LABEL_SHEETS: Readonly<Record<string, LabelSheet>> = {
  'a4-65': {
    name: 'A4, 65 labels of 38.1 × 21.2 mm',
    page: { width: 210, height: 297 },
    columns: 5,
    rows: 13,
    label: { width: 38.1, height: 21.2 },
    margin: { left: 4.75, top: 10.7 },
    gap: { across: 2.5, down: 0 },
  },
  'letter-80': {
    name: 'US letter, 80 labels of 1 3/4 × 1/2 in',
    page: { width: 215.9, height: 279.4 },
    columns: 4,
    rows: 20,
    label: { width: 44.45, height: 12.7 },
    margin: { left: 7.6, top: 12.7 },
    gap: { across: 7.6, down: 0 },
  },
};

/** One label for each conductor that has an end at the old panel, in the order of the plan. */
export function wireLabels(plan: Plan): WireLabel[] {
  const conductors = new Map(plan.wiring.conductors.map((c) => [c.id, c]));
  return plan.connections.flatMap((connection) => {
    const conductor = conductors.get(connection.conductor);
    if (conductor === undefined || !conductor.atPanel) return [];
    return [
      {
        conductor: connection.conductor,
        colour: connection.colour,
        from: fromWords(connection.from),
        to: toWords(connection.to),
        serves: servesWords(plan, conductor),
      },
    ];
  });
}

function fromWords(from: Connection['from']): string {
  if ('terminal' in from) return `old ${from.terminal}`;
  return 'join' in from ? from.join.replace(/^join:/, 'splice ') : 'loose';
}

function toWords(to: Connection['to']): string {
  if ('board' in to) return `${to.board} ${to.terminal}`;
  if ('joint' in to) return to.joint;
  return 'stays' in to ? 'stays' : 'park';
}

/** Labels as lines of text: identifier first, so that it can be copied by hand. */
export function labelsToText(labels: readonly WireLabel[]): string {
  const width = (of: (label: WireLabel) => string) => Math.max(0, ...labels.map((label) => of(label).length));
  const id = width((l) => l.conductor);
  const colour = width((l) => l.colour);
  const from = width((l) => l.from);
  const to = width((l) => l.to);
  return labels
    .map((l) =>
      `${l.conductor.padEnd(id)}  ${l.colour.padEnd(colour)}  ${l.from.padEnd(from)} → ${l.to.padEnd(to)}  ${l.serves}`.trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

/** Labels as CSV, as label printers read it. */
export function labelsToCsv(labels: readonly WireLabel[]): string {
  return toCsv(
    ['conductor', 'colour', 'from', 'to', 'serves'],
    labels.map((l) => [l.conductor, l.colour, l.from, l.to, l.serves]),
  );
}
