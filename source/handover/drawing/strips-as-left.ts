import type { AsLeft } from '../../job/as-left-record.ts';
import type { Circuit, Connection, Plan } from '../../plan/plan.ts';
import { jointName } from '../../plan/text/words.ts';
import type { Board } from '../../site/board.ts';
import { connectionsLeft, type LeftConnection } from '../as-left/connections.ts';
import type { HandoverSource } from '../sections/source.ts';
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

/** The strips as left: each board's terminals, new splices, what is loose or parked, what was not moved. */
export function stripsAsLeft(source: Pick<HandoverSource, 'plan' | 'left'>): DrawnStrip[] {
  const { plan, left } = source;
  const all = connectionsLeft(plan, left);
  const to = (key: string) => all.filter((c) => key in c.to);
  const spliced = to('joint');
  const joints = [...new Set(spliced.map((c) => ('joint' in c.to ? c.to.joint : '')))];
  const stays = new Set(to('stays').map((c) => c.conductor));
  const wiring = left?.wiring ?? plan.wiring;
  return [
    ...plan.boards.map((board) => boardStrip(source, all, board)),
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
    ...filledStrip('Loose: not landed', [
      { id: '', shape: 'none', role: 'on nothing', holds: to('loose').map((c) => drawn(plan, c)) },
    ]),
    ...filledStrip('Nobody knows where', [
      { id: '', shape: 'none', role: 'not known', holds: to('unknown').map((c) => drawn(plan, c)) },
    ]),
    ...filledStrip('Resistors out in the building', resistorsOutside(source)),
    ...filledStrip(
      'Not moved',
      jointsOf(
        plan,
        wiring.conductors.filter(({ id }) => stays.has(id)),
      ),
    ),
  ];
}

function boardStrip(
  { plan, left }: Pick<HandoverSource, 'plan' | 'left'>,
  all: readonly LeftConnection[],
  board: Board,
): DrawnStrip {
  const named = [
    ...board.inputs.flatMap((input) => [input.terminal, input.common]),
    board.aux.positive,
    board.aux.negative,
    ...(board.sounder ? [board.sounder.positive, board.sounder.negative] : []),
  ];
  const positions = [...new Set(named)].map((terminal): DrawnPosition => {
    const circuit = plan.circuits.find((c) => c.board === board.id && c.terminal === terminal);
    const landed = all
      .filter((c) => 'board' in c.to && c.to.board === board.id && c.to.terminal === terminal)
      .map((c) => drawn(plan, c));
    return {
      id: terminal,
      shape: 'screw',
      role: circuit === undefined ? roleOf(board, terminal) : circuitWords(plan, circuit),
      holds: circuit === undefined || !hasItsResistor(circuit, left) ? landed : withResistor(circuit, landed),
    };
  });
  return { title: `${board.name} (${board.id})`, positions };
}

/** Whether the resistor that was to stand at an input does. */
function hasItsResistor({ board, input }: Circuit, left: AsLeft | null): boolean {
  return left === null || left.wiring.resistors.some(({ id }) => id === `fitted:${board}/${input}`);
}

/** Out in the building as left: as it was planned where acts were not recorded. */
function resistorsOutside({ plan, left }: Pick<HandoverSource, 'plan' | 'left'>): DrawnPosition[] {
  if (left === null) return resistorsLeftOutside(plan);
  return left.wiring.resistors.flatMap(({ id, zone, ohms, place, role }): DrawnPosition[] => {
    if (place === 'panel' && (id.startsWith('fitted:') || left.wiring.removed.includes('panel'))) return [];
    const known = plan.zones.find((one) => one.id === zone)?.fitted.find((one) => one.id === id);
    // What stays where it is, as planned, is no matter of the changeover; life safety never is.
    if (known === undefined && !id.startsWith('fitted:')) return [];
    const where =
      place === null
        ? 'place not known'
        : place === 'panel'
          ? 'at the old panel'
          : nameOfDetector(plan, place.detector);
    const says =
      known === undefined || known.ohms !== ohms ? 'fitted' : known.work === 'keep' ? 'kept' : 'still in';
    return [
      {
        id: '',
        shape: 'none',
        role: where,
        holds: [
          {
            kind: 'resistor',
            value: resistorValue(ohms),
            says: `${says}${role === 'alarm' ? ', at the contact' : ''}${recordOf(left, id)}`,
          },
        ],
      },
    ];
  });
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

function drawn(plan: Plan, connection: LeftConnection): DrawnConductor {
  const conductor = plan.wiring.conductors.find(({ id }) => id === connection.conductor);
  const by = beside(BY[connection.by], connection.record);
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

/** The record that made a resistor so. */
function recordOf({ by, differs }: AsLeft, id: string): string {
  const record = by[id] ?? differs.find(({ subject }) => subject === id)?.record ?? null;
  return record === null ? '' : ` #${record}`;
}

/** How it got there, and the record that says so. */
function beside(how: string | null, record: number | null): string | null {
  const told = [how, record === null ? null : `#${record}`].filter((part) => part !== null);
  return told.length === 0 ? null : told.join(' ');
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
