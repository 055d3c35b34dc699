import { formatQuantity } from '../../electrical/quantity-words.ts';
import type { Board } from '../../site/board.ts';
import { sounderFit } from '../connections/sounder-ends.ts';
import { listed } from '../findings/words.ts';
import type { Connection, Plan } from '../plan.ts';
import { auxColdReadings } from '../points/aux-cold.ts';
import { branches } from './branches.ts';
import { cut, heading, pad, paragraph } from './layout.ts';
import { jointName, leastOhms } from './words.ts';

/** The new screws with what lands on each, what feeds the boards, and what must be read before they are fed. */
export function newStripText(plan: Plan, columns: number): string[] {
  return [
    ...heading('New boards, when done', columns),
    ...plan.boards.flatMap((board) => [
      ...mountText(plan, board, columns),
      ...screwsText(plan, board, columns),
      ...relayText(plan, board, columns),
      ...freeText(plan, board, columns),
      ...feedText(board, columns),
    ]),
    ...splicesText(plan, columns),
    ...coldText(plan, columns),
  ];
}

function mountText({ survey }: Plan, { id, mounting }: Board, columns: number): string[] {
  if (survey.panel.enclosure !== 'metal' || !mounting.insulate) return [];
  return paragraph(`${id}: mount it insulated from the metal of the enclosure.`, columns, '', '  ');
}

function screwsText(plan: Plan, board: Board, columns: number): string[] {
  const used = plan.terminals.filter((terminal) => terminal.board === board.id);
  const purposes = purposesOf(plan, board);
  const connectionOf = new Map(plan.connections.map((connection) => [connection.conductor, connection]));
  return used.flatMap(({ terminal, conductors, remedy, direct }) => {
    const connections = conductors.map((id) => connectionOf.get(id)!);
    const via = remedy === 'none' ? '' : direct > 0 ? `+${remedy}` : remedy;
    const head = `${pad(`${board.id} [${terminal}]`, 10)} ${pad(via, 9)}`;
    return branches(head, connections, (connection) =>
      `${pad(`${connection.conductor} ${connection.colour}`, 20)} ${connection === connections[0] ? (purposes.get(terminal) ?? '') : ''}`.trimEnd(),
    ).map((line) => cut(line, columns));
  });
}

/** What a screw of the board is for. */
function purposesOf(plan: Plan, board: Board): ReadonlyMap<string, string> {
  const purposes = new Map<string, string>();
  const onCommon = new Map<string, string[]>();
  for (const { input, terminal, common, detectors, contact, purpose } of plan.circuits.filter(
    (circuit) => circuit.board === board.id,
  )) {
    const kind =
      contact === 'normally-closed' ? '' : contact === 'unknown' ? ' (sense unknown)' : ' (open at rest)';
    const words = `${purpose === 'tamper' ? 'tamper of ' : ''}${detectors.join(', ')}`;
    purposes.set(terminal, `in ${input}${kind}: ${words}`);
    onCommon.set(common, [...(onCommon.get(common) ?? []), input]);
  }
  for (const [common, inputs] of onCommon) purposes.set(common, `common of ${listed(inputs)}`);
  const { aux, sounder } = board;
  purposes.set(aux.positive, 'aux +');
  purposes.set(aux.negative, 'aux -');
  if (sounder)
    for (const [name, sign] of [
      [sounder.positive, '+'],
      [sounder.negative, '-'],
    ] as const)
      purposes.set(name, purposes.has(name) ? `${purposes.get(name)}, sounder ${sign}` : `sounder ${sign}`);
  return purposes;
}

/** A sounder that wants another sense than the output gives is not joined to it as drawn. */
function relayText(plan: Plan, board: Board, columns: number): string[] {
  const mine = new Set(
    plan.supply
      .filter((one) => one.board === board.id)
      .flatMap(({ sounders }) => sounders.map(({ id }) => id)),
  );
  return plan.survey.sounders
    .filter((one) => mine.has(one.id) && sounderFit(one, board) === 'needs-relay')
    .flatMap(({ id }) =>
      paragraph(
        `${board.id} sounder ${id}: not straight on the output. The coil of a relay takes its place there, with its diode, and what triggers ${id} goes over the relay's contact: sounder-sense-unfit.`,
        columns,
        '',
        '  ',
      ),
    );
}

function freeText(plan: Plan, board: Board, columns: number): string[] {
  const used = new Set(plan.circuits.filter((one) => one.board === board.id).map(({ input }) => input));
  const free = board.inputs.filter(({ id }) => !used.has(id)).map(({ id }) => id);
  if (free.length === 0) return [];
  if (!plan.terminals.some((one) => one.board === board.id))
    return paragraph(`${board.id}: nothing lands on it; the site does without it.`, columns, '', '  ');
  return paragraph(
    `${board.id} input${free.length > 1 ? 's' : ''} ${listed(free)}: free, nothing on ${free.length > 1 ? 'them' : 'it'}.`,
    columns,
    '',
    '  ',
  );
}

/** What goes to the board's own supply and battery terminals, which no field wire ever touches. */
function feedText({ id, adapter, battery, supply }: Board, columns: number): string[] {
  const volts = (value: number) => formatQuantity(value, 'volts');
  const lead = adapter.lead === null ? '' : ` over cable ${adapter.lead}, spliced to its lead`;
  return [
    ...paragraph(
      `${id} supply: its own adapter, ${volts(adapter.volts)} DC ${formatQuantity(adapter.amps, 'amps')}${lead}, + to + and - to -; read it for DC, volts (${volts(supply.accepts.fromVolts)} to ${volts(supply.accepts.toVolts)}) and polarity before it touches the board. Nothing of the old feed.`,
      columns,
      '',
      '  ',
    ),
    ...paragraph(
      battery
        ? `${id} battery: a new ${volts(battery.volts)} ${formatQuantity(battery.capacityAmpHours, 'ampHours')} on its fused leads, after the adapter, positive first and negative last. Not the old one.`
        : `${id} battery: none.`,
      columns,
      '',
      '  ',
    ),
  ];
}

function splicesText(plan: Plan, columns: number): string[] {
  const joints = new Map<string, Connection[]>();
  for (const connection of plan.connections)
    if ('joint' in connection.to)
      joints.set(connection.to.joint, [...(joints.get(connection.to.joint) ?? []), connection]);
  return [...joints].flatMap(([node, connections]) =>
    branches(
      pad(`splice ${jointName(node)}`, 19),
      connections,
      ({ conductor, colour }) => `${conductor} ${colour}`,
    ).map((line) => cut(line, columns)),
  );
}

/** All wires landed, nothing fed yet. */
function coldText(plan: Plan, columns: number): string[] {
  const lines = plan.boards.flatMap((board) => {
    const { across, beside } = auxColdReadings(plan, board);
    const screw = (node: string) => jointName(node);
    const [plus, minus] = across.between.map(screw);
    const loops =
      beside.length === 0
        ? ''
        : ` Then from ${plus} to ${listed(beside.map(({ between }) => screw(between[1])))}, whose loops have a supply pair beside them: over ${leastOhms(beside[0]!.leastOhms)} each; less means that the supply touches the loop.`;
    return paragraph(
      `${board.id}: + lead on ${plus}, - lead on ${minus}: over ${leastOhms(across.leastOhms)}; less is a short or more load than aux gives.${loops}`,
      columns,
      '',
      '  ',
    );
  });
  if (lines.length === 0) return [];
  return [
    ...heading('Read before power-up, all landed and everything still off', columns),
    ...lines,
    ...paragraph(
      'No DC or AC on any landed screw against board negative and earth; supply wires + to + by their labels. Then the adapter, the battery, warm-up; every input at rest as in the table, every detector worked by itself.',
      columns,
      '',
      '  ',
    ),
  ];
}
