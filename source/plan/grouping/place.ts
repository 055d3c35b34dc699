import type { Board, BoardInput } from '../../site/board.ts';
import type { Group } from './group.ts';
import { spreadOverBoards } from './spread.ts';

/** What ties a group to others and to a board, beside the inputs themselves. */
export type Ties = {
  /** Groups with one of these in common share a return core, and want inputs of one common. */
  readonly returns: readonly string[];
  /** Groups with one of these in common are fed through one cable, and want one board. */
  readonly feeds: readonly string[];
  /** What its powered detectors draw from aux at most. */
  readonly auxAmps: number;
};

export type Placed = { readonly group: Group; readonly board: Board; readonly input: BoardInput };

export type Placement = {
  readonly placed: readonly Placed[];
  readonly unplaced: readonly Group[];
  /** Inputs asked for that could not be kept, as `detector b1/1`. */
  readonly refused: readonly string[];
  /** False where boards were filled in order without weighing every way. */
  readonly exact: boolean;
};

/**
 * Lays groups on inputs: inputs asked for are kept, what shares a return lands on one common, the rest in
 * survey order, each on a board whose aux can carry it where any way of placing does.
 */
export function placeGroups(
  groups: readonly Group[],
  boards: readonly Board[],
  tiesOf: (group: Group) => Ties,
): Placement {
  const { boardOf, exact } = spreadOverBoards(groups, boards, tiesOf);
  const placed: Placed[] = [];
  const refused: string[] = [];
  for (const [index, board] of boards.entries()) {
    const mine = groups.filter((group) => boardOf.get(group) === index);
    placed.push(...placeOnBoard(mine, board, tiesOf));
  }
  const order = new Map(groups.map((group, index) => [group, index]));
  placed.sort((a, b) => order.get(a.group)! - order.get(b.group)!);
  for (const group of groups)
    for (const unit of group.units) {
      const landed = placed.find((place) => place.group === group);
      const at = landed && `${landed.board.id}/${landed.input.id}`;
      if (unit.asked !== null && unit.asked !== at)
        refused.push(`${unit.detectors[0] ?? unit.zone} ${unit.asked}`);
    }
  const unplaced = groups.filter((group) => !placed.some((place) => place.group === group));
  return { placed, unplaced, refused, exact };
}

function placeOnBoard(groups: readonly Group[], board: Board, tiesOf: (group: Group) => Ties): Placed[] {
  const taken = new Map<BoardInput, Group>();
  const done = new Set<Group>();
  const put = (group: Group, input: BoardInput) => {
    taken.set(input, group);
    done.add(group);
  };
  for (const group of groups) {
    const asked = group.units.find((unit) => unit.asked !== null)?.asked;
    const input = board.inputs.find((candidate) => `${board.id}/${candidate.id}` === asked);
    if (input && !taken.has(input)) put(group, input);
  }
  const free = () => board.inputs.filter((input) => !taken.has(input));
  for (const group of groups) {
    if (done.has(group)) continue;
    const cluster = groups.filter(
      (other) => other === group || meets(tiesOf(group).returns, tiesOf(other).returns),
    );
    const open = cluster.filter((other) => !done.has(other));
    const common = cluster.length > 1 ? commonFor(cluster, open.length) : undefined;
    for (const member of open) {
      const inputs = free();
      const input = inputs.find((candidate) => candidate.common === common) ?? inputs[0];
      if (input) put(member, input);
    }
  }
  return [...taken].map(([input, group]) => ({ group, board, input }));

  /** The common with room for all that are open, first where one of the cluster already is; else the roomiest. */
  function commonFor(cluster: readonly Group[], needed: number): string | undefined {
    const room = new Map<string, number>();
    for (const input of free()) room.set(input.common, (room.get(input.common) ?? 0) + 1);
    const held = new Set(
      [...taken].filter(([, group]) => cluster.includes(group)).map(([input]) => input.common),
    );
    const commons = [...room].sort(
      ([a, inA], [b, inB]) =>
        Number(inB >= needed) - Number(inA >= needed) ||
        Number(held.has(b)) - Number(held.has(a)) ||
        (inA >= needed ? 0 : inB - inA),
    );
    return commons[0]?.[0];
  }
}

function meets(a: readonly string[], b: readonly string[]): boolean {
  return a.some((entry) => b.includes(entry));
}
