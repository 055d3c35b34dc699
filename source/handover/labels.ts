import type { AsLeft } from '../job/as-left-record.ts';
import type { Connection, Plan } from '../plan/plan.ts';
import { connectionsLeft, type LeftConnection } from './as-left/connections.ts';
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

/**
 * One label for each conductor that has an end at the old panel, in the order of the plan.
 *
 * @param left how the wiring was left: then a label says where its wire is, not where it was to go
 */
export function wireLabels(plan: Plan, left: AsLeft | null = null): WireLabel[] {
  const conductors = new Map(plan.wiring.conductors.map((c) => [c.id, c]));
  return connectionsLeft(plan, left).flatMap((connection) => {
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

function toWords(to: LeftConnection['to']): string {
  if ('unknown' in to) return 'not known';
  if ('loose' in to) return 'loose';
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
