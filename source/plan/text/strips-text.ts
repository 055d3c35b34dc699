import type { Connection, Plan } from '../plan.ts';
import { remember } from '../remember.ts';
import { cut, heading, pad } from './layout.ts';
import { goesWords, jointName } from './words.ts';

/** The old screws with what is on each, in the order of the panel, and where each conductor goes. */
export function oldStripText(plan: Plan, columns: number): string[] {
  const places = new Map<string, { label: string; role: string; connections: Connection[] }>();
  for (const { number, role } of plan.survey.panel.terminals)
    places.set(`old:${number}`, { label: number, role, connections: [] });
  for (const connection of plan.connections) {
    if (!isAtPanel(plan, connection)) continue;
    const key = placeOf(connection);
    const place = places.get(key) ?? { label: labelOf(key), role: roleOf(key), connections: [] };
    places.set(key, place);
    place.connections.push(connection);
  }
  const rows = [...places].filter(([, { connections, role }]) => connections.length > 0 || role !== 'unused');
  const lines = rows.flatMap(([key, { label, role, connections }]) => {
    const head = `${pad(key.startsWith('old:') ? `[${label}]` : label, 8)} ${pad(role, 12)} `;
    return branches(head, connections, (connection) => {
      const { conductor, colour } = connection;
      const what = `${hasResistorBefore(plan, conductor, key) ? 'R ' : ''}${conductor} ${colour}`;
      return `${pad(cut(what, 17), 17)} ${pad(cut(servesWords(plan, conductor), 13), 13)} > ${goesWords(plan, connection)}`;
    });
  });
  return [
    ...heading('Old panel, as found, and where each conductor goes', columns),
    'screw    role              conductor        serves          goes to',
    'R: a resistor sits between screw and conductor.',
    ...lines.map((line) => cut(line, columns)),
  ];
}

/** The new screws with what lands on each, and the splices that go with them. */
export function newStripText(plan: Plan, columns: number): string[] {
  const purposes = new Map<string, string>();
  for (const circuit of plan.circuits)
    purposes.set(
      `${circuit.board}:${circuit.terminal}`,
      `in ${circuit.input}: ${circuit.detectors.join(', ')}`,
    );
  const connectionOf = new Map(plan.connections.map((connection) => [connection.conductor, connection]));
  const lines = plan.boards.flatMap((board) => {
    const used = plan.terminals.filter((terminal) => terminal.board === board.id);
    return used.flatMap(({ terminal, conductors, remedy }) => {
      const connections = conductors.map((id) => connectionOf.get(id)!);
      const via = remedy === 'none' ? '' : remedy === 'pigtail' ? 'pigtail ' : 'block ';
      const purpose = purposes.get(`${board.id}:${terminal}`) ?? '';
      const head = `${pad(`${board.id} [${terminal}]`, 10)} ${pad(via, 8)}`;
      return branches(head, connections, (connection) =>
        `${pad(`${connection.conductor} ${connection.colour}`, 20)} ${connection === connections[0] ? purpose : ''}`.trimEnd(),
      );
    });
  });
  const joints = new Map<string, Connection[]>();
  for (const connection of plan.connections)
    if ('joint' in connection.to)
      joints.set(connection.to.joint, [...(joints.get(connection.to.joint) ?? []), connection]);
  const splices = [...joints].flatMap(([node, connections]) =>
    branches(
      pad(`splice ${jointName(node)}`, 19),
      connections,
      (connection) => `${connection.conductor} ${connection.colour}`,
    ),
  );
  const inMetal =
    plan.survey.panel.enclosure === 'metal' ? plan.boards.filter(({ mounting }) => mounting.insulate) : [];
  return [
    ...heading('New boards, when done', columns),
    ...inMetal.map(({ id }) => `${id}: mount it insulated from the metal of the enclosure.`),
    ...[...lines, ...splices].map((line) => cut(line, columns)),
  ];
}

function branches(
  head: string,
  connections: readonly Connection[],
  words: (connection: Connection) => string,
): string[] {
  if (connections.length === 0) return [head.trimEnd()];
  const last = connections.length - 1;
  return connections.map((connection, index) => {
    const start = index === 0 ? head : ' '.repeat(head.length);
    const line = last === 0 ? '──── ' : index === 0 ? '──┬─ ' : index === last ? '  └─ ' : '  ├─ ';
    return `${start}${line}${words(connection)}`;
  });
}

const conductorsOf = remember(
  ({ wiring }: Plan) => new Map(wiring.conductors.map((conductor) => [conductor.id, conductor])),
);

function isAtPanel(plan: Plan, { conductor }: Connection): boolean {
  return conductorsOf(plan).get(conductor)!.atPanel;
}

function placeOf({ from }: Connection): string {
  if ('terminal' in from) return `old:${from.terminal}`;
  return 'join' in from ? from.join : 'loose';
}

function labelOf(key: string): string {
  return key.startsWith('join:') ? jointName(key) : key === 'loose' ? '-' : jointName(key);
}

function roleOf(key: string): string {
  return key.startsWith('join:') ? 'splice' : key === 'loose' ? 'loose end' : '';
}

/** What a conductor serves: a detector, sounder, keypad. */
function servesWords(plan: Plan, conductor: string): string {
  return conductorsOf(plan).get(conductor)!.for ?? '';
}

/** A resistor at the panel sits between this screw and this conductor. */
function hasResistorBefore(plan: Plan, conductor: string, key: string): boolean {
  const { near } = conductorsOf(plan).get(conductor)!;
  return (
    near !== key &&
    plan.wiring.resistors.some(
      ({ a, b, place }) => place === 'panel' && (a === key || b === key) && (a === near || b === near),
    )
  );
}
