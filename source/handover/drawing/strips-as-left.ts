import type { Circuit, Connection, Plan } from '../../plan/plan.ts';
import { jointName } from '../../plan/text/words.ts';
import type { Board } from '../../site/board.ts';
import {
  type DrawnConductor,
  type DrawnPosition,
  type DrawnResistor,
  type DrawnStrip,
  drawConductor,
  filledStrip,
  nameOfDetector,
  resistorValue,
} from './strip.ts';
import { jointsOf } from './strips-as-found.ts';

/** The strips as left: each board's terminals, new splices, what is parked, what was not moved. */
export function stripsAsLeft(plan: Plan): DrawnStrip[] {
  const to = <K extends string>(key: K) => plan.connections.filter((c) => key in c.to);
  const spliced = to('joint');
  const joints = [...new Set(spliced.map((c) => ('joint' in c.to ? c.to.joint : '')))];
  const stays = new Set(to('stays').map((c) => c.conductor));
  return [
    ...plan.boards.map((board) => boardStrip(plan, board)),
    ...filledStrip(
      'New splices',
      joints.map((joint) => ({
        id: '',
        shape: 'joint',
        role: `splice ${jointName(joint)}`,
        holds: spliced.filter((c) => 'joint' in c.to && c.to.joint === joint).map((c) => drawn(plan, c)),
      })),
    ),
    ...filledStrip('Parked', [
      { id: '', shape: 'none', role: 'each end insulated', holds: to('parked').map((c) => drawn(plan, c)) },
    ]),
    ...filledStrip('Resistors out in the building', resistorsLeftOutside(plan)),
    ...filledStrip(
      'Not moved',
      jointsOf(
        plan,
        plan.wiring.conductors.filter(({ id }) => stays.has(id)),
      ),
    ),
  ];
}

function boardStrip(plan: Plan, board: Board): DrawnStrip {
  const named = [
    ...board.inputs.flatMap((input) => [input.terminal, input.common]),
    board.aux.positive,
    board.aux.negative,
    ...(board.sounder ? [board.sounder.positive, board.sounder.negative] : []),
  ];
  const positions = [...new Set(named)].map((terminal): DrawnPosition => {
    const circuit = plan.circuits.find((c) => c.board === board.id && c.terminal === terminal);
    const landed = plan.connections
      .filter((c) => 'board' in c.to && c.to.board === board.id && c.to.terminal === terminal)
      .map((c) => drawn(plan, c));
    return {
      id: terminal,
      shape: 'screw',
      role: circuit === undefined ? roleOf(board, terminal) : circuitWords(plan, circuit),
      holds: circuit === undefined ? landed : withResistor(circuit, landed),
    };
  });
  return { title: `${board.name} (${board.id})`, positions };
}

function circuitWords(plan: Plan, { purpose, fromZone, detectors }: Circuit): string {
  if (purpose === 'tamper') return `Tamper loop ${fromZone}`;
  return detectors.map((id) => nameOfDetector(plan, id)).join(' + ');
}

function roleOf({ inputs, aux, sounder }: Board, terminal: string): string {
  const common = inputs.filter((input) => input.common === terminal).map((input) => input.terminal);
  const roles = [
    common.length === 0 ? '' : `common of ${common.join(', ')}`,
    terminal === aux.positive ? 'aux +' : terminal === aux.negative ? 'aux −' : '',
    sounder && terminal === sounder.positive ? 'sounder +' : '',
    sounder && terminal === sounder.negative ? 'sounder −' : '',
  ];
  return roles.filter((role) => role !== '').join(', ');
}

/** The resistor that stands at the board for one input, fitted or kept: in the line of its conductor, or across the pair. */
function withResistor(
  { resistor, contact, common }: Circuit,
  landed: readonly DrawnConductor[],
): readonly (DrawnConductor | DrawnResistor)[] {
  const { work, ohms, newOhms, at } = resistor;
  if (at !== null && typeof at === 'object') return landed;
  const stands = work === 'keep' ? (at === 'panel' ? ohms : null) : newOhms;
  if (stands === null) return landed;
  const value = resistorValue(stands);
  const across = contact === 'normally-open';
  const [only, ...more] = landed;
  if (!across && only !== undefined && more.length === 0 && only.by === null)
    return [{ ...only, resistor: value }];
  const says = `${work === 'keep' ? 'kept' : 'fitted'}, ${across ? `across to ${common}` : 'in series'}`;
  return [...landed, { kind: 'resistor', value, says }];
}

function resistorsLeftOutside(plan: Plan): DrawnPosition[] {
  return plan.circuits.flatMap(({ resistor, board, input }): DrawnPosition[] => {
    const { work, ohms, newOhms, at } = resistor;
    const stands = work === 'keep' ? ohms : newOhms;
    if (at === null || typeof at !== 'object' || (work !== 'keep' && stands === null)) return [];
    return [
      {
        id: '',
        shape: 'none',
        role: nameOfDetector(plan, at.detector),
        holds: [
          {
            kind: 'resistor',
            value: resistorValue(stands),
            says: `${work === 'keep' ? 'kept' : 'fitted'}, for ${board} ${input}`,
          },
        ],
      },
    ];
  });
}

function drawn(plan: Plan, connection: Connection): DrawnConductor {
  const conductor = plan.wiring.conductors.find(({ id }) => id === connection.conductor);
  const by = BY[connection.by];
  if (conductor !== undefined) return drawConductor(plan, conductor, { by });
  return {
    kind: 'conductor',
    id: connection.conductor,
    colour: connection.colour,
    serves: '',
    symbol: 'end',
    resistor: null,
    by,
  };
}

const BY: Readonly<Record<Connection['by'], string | null>> = {
  direct: null,
  splice: 'splice',
  pigtail: 'pigtail',
  block: 'block',
  extension: 'extended',
  parked: 'insulated',
  untouched: null,
};
