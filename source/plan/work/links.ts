import type { Board } from '../../site/board.ts';
import type { Act } from '../../wiring/act.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import type { Destinations } from '../connections/destination.ts';

/** A return that several circuits share lies on one common; the commons of the others are linked to it. */
export function linksOfCommons(
  boards: readonly Board[],
  ends: readonly CircuitEnds[],
  destinations: Destinations,
): Extract<Act, { do: 'link' }>[] {
  return boards.flatMap((board) => {
    const groups: string[][] = [];
    for (const { placed, units } of ends) {
      if (placed.board.id !== board.id) continue;
      const { common } = placed.input;
      const landed = units.flatMap((one) => one.ends.out.map(({ id }) => destinations.of(id)));
      const others = landed.flatMap((to) =>
        to &&
        'terminal' in to &&
        to.board === board.id &&
        to.terminal !== common &&
        isCommon(board, to.terminal)
          ? [to.terminal]
          : [],
      );
      if (others.length > 0) join(groups, [common, ...others]);
    }
    const order = [...new Set(board.inputs.map(({ common }) => common))];
    return groups.map((group) => ({
      do: 'link' as const,
      board: board.id,
      terminals: order.filter((one) => group.includes(one)),
    }));
  });
}

const isCommon = (board: Board, terminal: string) => board.inputs.some(({ common }) => common === terminal);

/** Groups that have a member in common become one. */
function join(groups: string[][], members: readonly string[]): void {
  const touching = groups.filter((group) => group.some((one) => members.includes(one)));
  const rest = groups.filter((group) => !touching.includes(group));
  groups.splice(0, groups.length, ...rest, [...new Set([...touching.flat(), ...members])]);
}
