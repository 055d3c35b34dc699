import type { Board, BoardInput } from '../../site/board.ts';
import type { Group } from './group.ts';
import { seatsAsked } from './seats.ts';
import { seatOnBoard } from './sit.ts';
import { type Question, spreadOverBoards } from './spread.ts';

/** What ties a group to others and to a board, beside the inputs themselves. */
export type Ties = {
  /** Groups with one of these in common share a return core, and want inputs of one common. */
  readonly returns: readonly string[];
  /** Groups with one of these in common are fed through one cable, and want one board. */
  readonly feeds: readonly string[];
  /** What it brings to a board's aux at most: the detectors on the cables that it decides about. */
  readonly auxAmps: number;
  /** What it brings to the board's supply at most, the sounders that go with it included. */
  readonly supplyAmps: number;
  /** How much of that stands on assumed figures alone. */
  readonly doubtfulAmps: number;
};

/** What a board has for groups, beside its inputs. */
export type BoardRoom = { readonly auxAmps: number; readonly supplyAmps: number };

export type Placed = { readonly group: Group; readonly board: Board; readonly input: BoardInput };

export type Placement = {
  readonly placed: readonly Placed[];
  readonly unplaced: readonly Group[];
  /** Inputs asked for that could not be kept, as `detector b1/1`. */
  readonly refused: readonly string[];
  /** Whether current and inputs suffice: `no` is proved, `unknown` means that not every way was weighed. */
  readonly fits: 'yes' | 'no' | 'unknown';
};

/**
 * Lays groups on inputs: inputs asked for are kept, what shares a return lands on one common wherever any
 * placing does, the rest in survey order, each on a board that can carry it where any placing does.
 */
export function placeGroups(
  groups: readonly Group[],
  boards: readonly Board[],
  tiesOf: (group: Group) => Ties,
  rooms: readonly BoardRoom[],
): Placement {
  const question: Question = { groups, boards, rooms, tiesOf, seats: seatsAsked(groups, boards) };
  const { boardOf, fits } = spreadOverBoards(question);
  const placed = boards.flatMap((board, index) => {
    const mine = groups.filter((group) => boardOf.get(group) === index);
    return [...seatOnBoard(question, index, mine)].map(([group, input]) => ({ group, board, input }));
  });
  const order = new Map(groups.map((group, index) => [group, index]));
  placed.sort((a, b) => order.get(a.group)! - order.get(b.group)!);
  const landed = new Map(placed.map((place) => [place.group, `${place.board.id}/${place.input.id}`]));
  const refused = groups.flatMap((group) =>
    group.units
      .filter(({ asked }) => asked !== null && asked !== landed.get(group))
      .map(({ detectors, zone, asked }) => `${detectors[0] ?? zone} ${asked}`),
  );
  return { placed, unplaced: groups.filter((group) => !landed.has(group)), refused, fits };
}
