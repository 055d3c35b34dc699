import { formatQuantity } from '../../electrical/quantity.ts';
import type { Connection, Plan } from '../../plan/plan.ts';
import type { FittedResistor, WiredConductor } from '../../site/wiring.ts';

/** One conductor as it is drawn at a screw or joint: its colour is always also a word. */
export type DrawnConductor = {
  readonly id: string;
  readonly colour: string;
  /** What it serves, in the site's own names. */
  readonly serves: string;
  /** What sits between the screw and it: a resistor, a join; or how it is landed. */
  readonly through: string | null;
};

export type DrawnPosition = {
  readonly id: string;
  readonly role: string;
  readonly conductors: readonly DrawnConductor[];
};

export type DrawnStrip = { readonly title: string; readonly positions: readonly DrawnPosition[] };

/** The strips as found: the old panel's screws, its splices, and what hangs loose. */
export function stripsAsFound(plan: Plan): DrawnStrip[] {
  const { wiring, survey } = plan;
  const here = wiring.conductors.filter((conductor) => conductor.atPanel);
  const screws = survey.panel.terminals.map(({ number, role }) => ({
    id: number,
    role: roleWords(plan, number, role),
    conductors: here
      .filter((c) => c.screw === number)
      .map((c) => drawn(plan, c, throughAsFound(c, number, wiring.resistors))),
  }));
  const joins = joinIds(here).map((id) => ({
    id: id.replace(/^join:/, 'splice '),
    role: '',
    conductors: here.filter((c) => c.near === id && c.screw === null).map((c) => drawn(plan, c, null)),
  }));
  const loose = here.filter((c) => c.screw === null && !c.near.startsWith('join:'));
  return [
    { title: 'Old panel, as found', positions: screws },
    ...optionalStrip('Splices in the old panel', joins),
    ...optionalStrip('Not connected', [
      { id: 'loose', role: '', conductors: loose.map((c) => drawn(plan, c, null)) },
    ]),
  ];
}

/** The strips as they will be: each board's terminals, joints beside them, and what is parked. */
export function stripsAsLeft(plan: Plan): DrawnStrip[] {
  const conductors = new Map(plan.wiring.conductors.map((c) => [c.id, c]));
  const place = (connection: Connection) => {
    const conductor = conductors.get(connection.conductor);
    return conductor
      ? drawn(plan, conductor, connection.by === 'direct' ? null : byWords[connection.by])
      : { id: connection.conductor, colour: connection.colour, serves: '', through: null };
  };
  const boards = plan.boards.map((board) => {
    const named = [
      ...board.inputs.flatMap((input) => [input.terminal, input.common]),
      board.aux.positive,
      board.aux.negative,
      ...(board.sounder ? [board.sounder.positive, board.sounder.negative] : []),
    ];
    const positions = [...new Set(named)].map((terminal) => ({
      id: terminal,
      role: inputRole(plan, board.id, terminal),
      conductors: plan.connections
        .filter((c) => 'board' in c.to && c.to.board === board.id && c.to.terminal === terminal)
        .map(place),
    }));
    return { title: `${board.name} (${board.id}), as left`, positions };
  });
  const joints = [...new Set(plan.connections.flatMap((c) => ('joint' in c.to ? [c.to.joint] : [])))];
  const parked = plan.connections.filter((c) => 'parked' in c.to);
  const stays = plan.connections.filter((c) => 'stays' in c.to);
  return [
    ...boards,
    ...optionalStrip(
      'Joints',
      joints.map((joint) => ({
        id: joint,
        role: '',
        conductors: plan.connections.filter((c) => 'joint' in c.to && c.to.joint === joint).map(place),
      })),
    ),
    ...optionalStrip('Parked and insulated', [{ id: 'parked', role: '', conductors: parked.map(place) }]),
    ...optionalStrip('Left as it is', [{ id: 'stays', role: 'not moved', conductors: stays.map(place) }]),
  ];
}

const byWords: Record<Exclude<Connection['by'], 'direct'>, string> = {
  splice: 'in a splice',
  pigtail: 'pigtail',
  block: 'distribution block',
  extension: 'extension joint',
  parked: 'end insulated',
  untouched: 'not touched',
};

function optionalStrip(title: string, positions: readonly DrawnPosition[]): DrawnStrip[] {
  const filled = positions.filter((position) => position.conductors.length > 0);
  return filled.length > 0 ? [{ title, positions: filled }] : [];
}

function joinIds(conductors: readonly WiredConductor[]): string[] {
  return [
    ...new Set(conductors.filter((c) => c.near.startsWith('join:') && c.screw === null).map((c) => c.near)),
  ];
}

function throughAsFound(
  conductor: WiredConductor,
  screw: string,
  resistors: readonly FittedResistor[],
): string | null {
  const fitted = resistors.find(
    (r) =>
      r.place === 'panel' &&
      [r.a, r.b].includes(conductor.near) &&
      [r.a, r.b].includes(`old:${screw}`) &&
      conductor.near !== `old:${screw}`,
  );
  if (fitted === undefined) return null;
  return fitted.ohms === 'unknown' ? 'through a resistor' : `through ${formatQuantity(fitted.ohms, 'ohms')}`;
}

function drawn(plan: Plan, conductor: WiredConductor, through: string | null): DrawnConductor {
  return {
    id: conductor.id,
    colour: conductor.colour,
    serves: servesWords(plan, conductor),
    through,
  };
}

/** What a conductor serves, in the site's names: `Boat-store shutter`, `Sail loft movement, aux +`. */
export function servesWords(plan: Plan, conductor: WiredConductor): string {
  const { survey } = plan;
  const detector = survey.detectors.find((d) => d.id === conductor.for);
  const sounder = survey.sounders.find((s) => s.id === conductor.for);
  const name = detector?.name ?? sounder?.name ?? conductor.for;
  const use = useWords[conductor.use] ?? conductor.use;
  return [name, use].filter((part) => part !== null && part !== '').join(', ');
}

const useWords: Partial<Record<WiredConductor['use'], string>> = {
  loop: '',
  'aux-positive': 'aux +',
  'aux-negative': 'aux −',
  'sounder-positive': 'sounder +',
  'sounder-negative': 'sounder −',
  'hold-off': 'hold-off',
  'tamper-return': 'tamper return',
};

function roleWords(plan: Plan, number: string, role: string): string {
  const zones = plan.survey.zones.filter((zone) => zone.terminals.includes(number)).map((zone) => zone.name);
  return zones.length > 0 ? zones.join(' / ') : role.replace('-positive', ' +').replace('-negative', ' −');
}

function inputRole(plan: Plan, board: string, terminal: string): string {
  const circuit = plan.circuits.find((c) => c.board === board && c.terminal === terminal);
  if (circuit === undefined) return '';
  const names = circuit.detectors.map((id) => plan.survey.detectors.find((d) => d.id === id)?.name ?? id);
  return names.join(' + ');
}
