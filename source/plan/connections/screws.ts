import type { Board } from '../../site/board.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import type { Connection, TerminalUse } from '../plan.ts';
import type { Destination, Destinations } from './destination.ts';

/** More than so many in one joint, the pigtail counted, want a distribution block. Common practice, no source. */
const MOST_IN_JOINT = 3;
/** What it takes to bring a core to a new screw without pulling on it. Common practice, no source. */
export const LEAST_SLACK_METRES = 0.15;

/**
 * What lands under each screw of the boards. A screw takes one conductor unless its maker says more, and
 * several only of one size: NEC 110.14(A), NFPA 731 4.6.3.9 and 4.6.3.10.
 */
export function computeTerminals(
  survey: Survey,
  boards: readonly Board[],
  conductors: readonly WiredConductor[],
  destinations: Destinations,
): TerminalUse[] {
  const landing = new Map<string, WiredConductor[]>();
  for (const conductor of conductors) {
    const to = destinations.of(conductor.id);
    if (!to || !('terminal' in to)) continue;
    const key = `${to.board}:${to.terminal}`;
    landing.set(key, [...(landing.get(key) ?? []), conductor]);
  }
  const cableById = new Map(survey.cables.map((cable) => [cable.id, cable]));
  return boards.flatMap((board) =>
    terminalsOf(board).flatMap((terminal): TerminalUse[] => {
      const here = landing.get(`${board.id}:${terminal}`);
      if (!here) return [];
      const allowed = board.terminals.conductors;
      const unlike = new Set(here.map(({ cable }) => cableById.get(cable)!.conductor.name)).size > 1;
      const needsJoint = here.length > allowed || unlike;
      const joined = here.length - directBeside(allowed, unlike);
      const remedy = !needsJoint ? 'none' : joined + 1 > MOST_IN_JOINT ? 'block' : 'pigtail';
      const direct =
        remedy === 'none' ? here.length : remedy === 'pigtail' ? directBeside(allowed, unlike) : 0;
      return [{ board: board.id, terminal, conductors: here.map(({ id }) => id), allowed, direct, remedy }];
    }),
  );
}

/** How many stay under the screw beside one pigtail: none where they are unlike. */
function directBeside(allowed: number, unlike: boolean): number {
  return unlike ? 0 : allowed - 1;
}

/** A board's screws in the order of its file: inputs with their commons, aux, sounder. */
function terminalsOf(board: Board): string[] {
  const inputs = board.inputs.flatMap(({ terminal, common }) => [terminal, common]);
  const sounder = board.sounder ? [board.sounder.positive, board.sounder.negative] : [];
  return [...new Set([...inputs, board.aux.positive, board.aux.negative, ...sounder])];
}

/** Every conductor once: from where it is, to where it goes, and how it gets there. */
export function computeConnections(
  survey: Survey,
  conductors: readonly WiredConductor[],
  destinations: Destinations,
  terminals: readonly TerminalUse[],
): Connection[] {
  const byConductor = new Map(
    terminals.flatMap(({ conductors: here, direct, remedy }) =>
      here.map((id, index) => [id, index < direct ? 'none' : remedy] as const),
    ),
  );
  return conductors.map((conductor) => {
    const to = destinations.of(conductor.id) ?? { parked: true as const };
    return {
      conductor: conductor.id,
      colour: conductor.colour,
      from: fromOf(conductor),
      to,
      by: byOf(conductor.id, to),
    };
  });

  function byOf(conductor: string, to: Destination): Connection['by'] {
    if ('parked' in to) return 'parked';
    if ('stays' in to) return 'untouched';
    if ('joint' in to) return 'splice';
    const by = byConductor.get(conductor) ?? 'none';
    if (by !== 'none') return by;
    return isTooShort(survey) ? 'extension' : 'direct';
  }
}

/** The slack at the panel is known to be too little to reach a new screw. */
export function isTooShort(survey: Survey): boolean {
  const { slackMetres } = survey.panel;
  return slackMetres !== null && slackMetres < LEAST_SLACK_METRES;
}

/** The screw it belongs to, also where a resistor sits between; else the splice it ends in. */
function fromOf({ near, screw }: WiredConductor): Connection['from'] {
  if (screw !== null) return { terminal: screw };
  return near.startsWith('end:') ? { loose: true } : { join: near };
}

/** Whether a screw's maker provides for a conductor of this size. */
export function isInRange(board: Board, cable: Cable): boolean {
  const { from, to } = board.terminals;
  const area = cable.conductor.areaSquareMillimetres;
  // A size named one way may miss the same size named the other way by a little.
  return area >= from.areaSquareMillimetres * 0.98 && area <= to.areaSquareMillimetres * 1.02;
}
