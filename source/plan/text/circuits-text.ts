import type { Board } from '../../site/board.ts';
import { listed } from '../findings/words.ts';
import { usableOn } from '../loops/windows.ts';
import type { Circuit, Plan } from '../plan.ts';
import { heading, paragraph, table } from './layout.ts';
import { ohmsWords, resistorWords, spanWords, spreadWords, windowWords } from './words.ts';

/** One row a new input: what it carries and what a meter must show of it. */
export function circuitsText(plan: Plan, columns: number): string[] {
  if (plan.circuits.length === 0) return [];
  const place = new Map(
    plan.boards
      .flatMap(({ id, inputs }) => inputs.map((input) => `${id}/${input.id}`))
      .map((id, at) => [id, at]),
  );
  const circuits = [...plan.circuits].sort((a, b) => place.get(idOf(a))! - place.get(idOf(b))!);
  const rows = circuits.map((circuit) => [
    idOf(circuit),
    `${circuit.terminal} ${circuit.common}`,
    circuit.purpose === 'tamper' ? `tamper of ${circuit.detectors.join(', ')}` : circuit.detectors.join(', '),
    circuit.fromZone,
    `${windowWords(circuit.rest)}${circuit.unpowered === null ? '' : ' *'}`,
    spreadWords(Object.values(circuit.active)),
  ]);
  const resistors = circuits.flatMap((circuit) => resistorText(circuit, columns));
  return [
    ...heading('New inputs', columns),
    ...rowsText(rows, columns),
    ...unpoweredText(circuits, columns),
    ...usableText(plan, columns),
    ...(resistors.length > 0 ? ['Resistors on the new inputs:', ...resistors] : []),
  ];
}

/** A table where the names leave room for one, else a paragraph for each input: no name is ever cut. */
function rowsText(rows: readonly (readonly string[])[], columns: number): string[] {
  const head = ['input', 'screws', 'detectors', 'zone', 'at rest', 'worked'];
  const lines = table([head, ...rows], columns, 2);
  if (!lines.some((line) => line.includes('…'))) return lines;
  return rows.flatMap(([input, screws, detectors, zone, rest, worked]) =>
    paragraph(
      `${input} (${screws}): ${detectors}, zone ${zone}. At rest ${rest}, worked ${worked || 'not known'}.`,
      columns,
      '',
      '  ',
    ),
  );
}

const idOf = ({ board, input }: Circuit) => `${board}/${input}`;

/** Inputs that read so only with their detectors fed: what a meter shows of them while all is off. */
function unpoweredText(circuits: readonly Circuit[], columns: number): string[] {
  const dead = circuits.filter(({ unpowered }) => unpowered !== null);
  if (dead.length === 0) return [];
  const words = dead.map(
    (circuit) => `${idOf(circuit)} ${windowWords({ ...circuit.unpowered!, usable: null })}`,
  );
  return paragraph(
    `*: only once its detector has supply and has warmed up. Off, its relay drops, and the input reads: ${words.join(', ')}.`,
    columns,
    '',
    '   ',
  );
}

/** What each board can live with. */
function usableText(plan: Plan, columns: number): string[] {
  return plan.boards.flatMap((board) => {
    const windows = plan.circuits
      .filter((one) => one.board === board.id)
      .flatMap(({ rest, active }) => [rest, ...Object.values(active)]);
    const isClosed = windows.some(({ usable: one }) => one && one.max < Number.POSITIVE_INFINITY);
    const open = windows.find(({ usable: one }) => one && one.max === Number.POSITIVE_INFINITY)?.usable;
    if (board.supervision !== null) return supervisedText(plan, board, columns);
    if (!isClosed || !open) return [];
    const closed = usableOn(board, 'closed');
    return paragraph(
      `${board.id} can live with ${windowWords({ expected: { ...closed, nominal: closed.min }, usable: null })} closed and ${windowWords({ expected: 'open', usable: open })}${lessOnShared(plan, board, closed)}; a reading inside that but outside the table passes, and its cause is looked for.`,
      columns,
      '',
      '',
    );
  });
}

/** Inputs whose return is lifted by the currents of others can live with less. */
function lessOnShared({ circuits }: Plan, { id }: Board, usable: { readonly max: number }): string {
  const lifted = circuits.filter(
    (one) => one.board === id && Object.keys(one.returnRiseVolts ?? {}).length > 0,
  );
  const words = lifted.flatMap((circuit) => {
    const windows = [circuit.rest, ...Object.values(circuit.active)];
    const least = Math.min(...windows.map((one) => one.usable?.max ?? Number.POSITIVE_INFINITY));
    return least < usable.max ? [`input ${circuit.input} up to ${ohmsWords(least)}`] : [];
  });
  return words.length > 0 ? ` (over a return that others share, ${listed(words)})` : '';
}

/** A supervised input has a window of its own: at rest a reading belongs inside it. */
function supervisedText(plan: Plan, board: Board, columns: number): string[] {
  if (!plan.circuits.some((one) => one.board === board.id && one.rest.usable !== null)) return [];
  const usable = usableOn(board, 'normal');
  return paragraph(
    `${board.id} is supervised, and sure of rest from ${spanWords(usable.min, usable.max)}${lessOnShared(plan, board, usable)}; outside that it tells an alarm or a fault.`,
    columns,
    '',
    '',
  );
}

/** A resistor that is on a new input when all is done. */
function resistorText(
  { board, input, terminal, common, contact, resistor }: Circuit,
  columns: number,
): string[] {
  if (resistor.work === 'none' || resistor.work === 'remove') return [];
  const atPanel = resistor.at === 'panel';
  const where = !atPanel
    ? ''
    : contact === 'normally-open'
      ? `, across ${terminal} and ${common}`
      : `, between ${terminal} and its conductor`;
  return paragraph(`${board}/${input}: ${resistorWords(resistor)}${where}.`, columns, '  ', '    ');
}
