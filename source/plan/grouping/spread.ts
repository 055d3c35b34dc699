import { isOver } from '../../electrical/limit.ts';
import type { Board } from '../../site/board.ts';
import type { Group } from './group.ts';
import { inOrder, isThereAWay } from './in-order.ts';
import type { Load, Room } from './load.ts';
import type { BoardRoom, Ties } from './place.ts';
import { clustersOf, type Seat } from './seats.ts';

/** Ways that a search may try: a few tenths of a second. */
const MOST_TRIES = 60_000;
/** The first wishes part no set that can lie on one common; each that follows may try less. */
const WISHED_MOST = 4;
const TRIES_A_WISH = 4_000;
/** Up to this many sets of groups with one return, each pair is tried as the one that is parted. */
const PAIRS_OF = 8;

/** What is laid on boards: groups, what ties them, and the inputs that are settled. */
export type Question = {
  readonly groups: readonly Group[];
  readonly boards: readonly Board[];
  readonly rooms: readonly BoardRoom[];
  readonly tiesOf: (group: Group) => Ties;
  readonly seats: ReadonlyMap<Group, Seat>;
};

export type Spread = {
  readonly boardOf: ReadonlyMap<Group, number>;
  /** `no`: proved that no placing keeps to what the boards give; `unknown`: not every way was weighed. */
  readonly fits: 'yes' | 'no' | 'unknown';
};

/** What is wished beside inputs and current. */
type Wish = {
  /** What groups that stand on one board have in common: a cable that feeds them, a return. */
  readonly keysOf: (ties: Ties) => readonly string[];
  /** Whether a set of groups with one return is to lie on one common. */
  readonly isTogether: (cluster: readonly Group[]) => boolean;
};

/**
 * Which board each group stands on, so that no board has more groups than inputs nor more current than it
 * gives. Beside that, from the most wished to the least: what shares a return lies on one common; what is fed
 * through one cable or shares a return stands on one board. Where not all current can be carried, what is
 * known of it is; where not even that, each goes where there is most to spare.
 */
export function spreadOverBoards(question: Question): Spread {
  const wishes = wishesOf(question);
  const rooms = roomsLeft(question);
  const bare = wishes.at(-1)!;
  let isSure = true;
  for (const drawn of ['all', 'known'] as const) {
    for (const [at, wish] of wishes.entries()) {
      if (at === 1) {
        // Without any wish it is inputs and current alone: where those are short, no wish helps.
        const { loads } = loadsOf(question, bare, drawn);
        const isAWay = isThereAWay(loads, rooms, MOST_TRIES);
        if (isAWay === 'given-up') isSure = false;
        if (isAWay === 'none') break;
      }
      const { blocks, loads } = loadsOf(question, wish, drawn);
      const found = inOrder(loads, rooms, at < WISHED_MOST || wish === bare ? MOST_TRIES : TRIES_A_WISH);
      if (typeof found === 'string') continue;
      const boardOf = blocks.flatMap((block, one) => block.map((group) => [group, found[one]!] as const));
      return { boardOf: new Map(boardOf), fits: isSure ? 'yes' : 'unknown' };
    }
  }
  return { boardOf: firstFit(question), fits: isSure ? 'no' : 'unknown' };
}

/**
 * From all wishes to none. One common outweighs one feed, and of the sets that lie on one common as few as can
 * be are parted.
 */
function wishesOf({ groups, boards, seats, tiesOf }: Question): Wish[] {
  const clusters = clustersOf(groups, (group) => tiesOf(group).returns).filter(({ length }) => length > 1);
  // What no common has room for still has one board, where that costs nothing else.
  const able = clusters.filter((cluster) => togetherOf(boards, seats, cluster) !== null);
  const returnsOf = (some: readonly (readonly Group[])[]) =>
    new Set(some.flat().flatMap((group) => tiesOf(group).returns));
  const pairs =
    able.length <= PAIRS_OF ? able.flatMap((one, at) => able.slice(at + 1).map((other) => [one, other])) : [];
  return [
    ...wishesFor([]),
    ...[...able.map((cluster) => [cluster]), ...pairs].flatMap(wishesFor),
    ...wishesFor(able),
    { keysOf: () => [], isTogether: () => false },
  ];

  function wishesFor(parted: readonly (readonly Group[])[]): Wish[] {
    const together = returnsOf(able.filter((cluster) => !parted.includes(cluster)));
    const isTogether: Wish['isTogether'] = ([first]) => tiesOf(first!).returns.some((id) => together.has(id));
    const only = ({ returns }: Ties) => returns.filter((id) => together.has(id));
    return [
      { keysOf: ({ returns, feeds }) => [...returns, ...feeds], isTogether },
      { keysOf: (ties) => [...only(ties), ...ties.feeds], isTogether },
      { keysOf: ({ returns }) => returns, isTogether },
      { keysOf: only, isTogether },
    ];
  }
}

function loadsOf(question: Question, wish: Wish, drawn: 'all' | 'known') {
  const blocks = blocksOf(question, wish);
  return { blocks, loads: blocks.map((block) => loadOf(question, block, wish, drawn)) };
}

/** Groups that stand on one board together; never more than the largest board has inputs for. */
function blocksOf({ groups, boards, tiesOf, seats }: Question, wish: Wish): Group[][] {
  const mostInputs = Math.max(0, ...boards.map(({ inputs }) => inputs.length));
  const mayJoin = (together: readonly Group[]) => {
    const settled = together.flatMap((group) => seats.get(group)?.board ?? []);
    return together.length <= mostInputs && new Set(settled).size <= 1;
  };
  const blocks = clustersOf(groups, (group) => wish.keysOf(tiesOf(group)), mayJoin);
  const isSettled = (block: readonly Group[]) => block.some((group) => seats.has(group));
  // Where an input was asked for, its place is taken first, so that nothing else takes it.
  return [...blocks.filter(isSettled), ...blocks.filter((block) => !isSettled(block))];
}

function loadOf(
  { boards, tiesOf, seats }: Question,
  block: readonly Group[],
  wish: Wish,
  drawn: 'all' | 'known',
): Load {
  const sum = (of: (ties: Ties) => number) => block.reduce((total, group) => total + of(tiesOf(group)), 0);
  const doubtful = drawn === 'all' ? 0 : sum(({ doubtfulAmps }) => doubtfulAmps);
  const clusters = clustersOf(block, (group) => tiesOf(group).returns)
    .filter((cluster) => cluster.length > 1 && wish.isTogether(cluster))
    .flatMap((cluster) => togetherOf(boards, seats, cluster) ?? []);
  return {
    board: block.map((group) => seats.get(group)?.board).find((board) => board !== undefined) ?? null,
    inputs: block.filter((group) => !seats.has(group)).length,
    auxAmps: sum(({ auxAmps }) => auxAmps) - doubtful,
    supplyAmps: sum(({ supplyAmps }) => supplyAmps) - doubtful,
    together: clusters,
  };
}

/** What a set of groups still takes of one common; `null` where no common can have all of it. */
export function togetherOf(
  boards: readonly Board[],
  seats: ReadonlyMap<Group, Seat>,
  cluster: readonly Group[],
): Load['together'][number] | null {
  const settled = cluster.flatMap((group) => seats.get(group) ?? []);
  const [first] = settled;
  const largest = Math.max(0, ...boards.flatMap((board) => [...inputsOfCommons(board).values()]));
  if (settled.some((seat) => seat.board !== first!.board || seat.input.common !== first!.input.common))
    return null;
  if (cluster.length > largest) return null;
  const commons = first ? [...inputsOfCommons(boards[first.board]!).keys()] : [];
  return {
    inputs: cluster.length - settled.length,
    common: first ? commons.indexOf(first.input.common) : null,
  };
}

/** How many inputs each common of a board has, in the order of its inputs. */
export function inputsOfCommons({ inputs }: Pick<Board, 'inputs'>): Map<string, number> {
  const commons = new Map<string, number>();
  for (const { common } of inputs) commons.set(common, (commons.get(common) ?? 0) + 1);
  return commons;
}

function roomsLeft({ boards, rooms, seats }: Question): Room[] {
  const taken = new Set([...seats.values()].map(({ input }) => input));
  return boards.map((board, at) => {
    const inputs = board.inputs.filter((input) => !taken.has(input));
    const free = inputsOfCommons({ inputs });
    return {
      ...rooms[at]!,
      inputs: inputs.length,
      commons: [...inputsOfCommons(board).keys()].map((common) => free.get(common) ?? 0),
    };
  });
}

/** Each block on the first board with inputs and current to spare, or the most to spare; then piece by piece. */
function firstFit(question: Question): Map<Group, number> {
  const { boards } = question;
  const left = roomsLeft(question).map((room) => ({ ...room }));
  const boardOf = new Map<Group, number>();
  const put = (block: readonly Group[]): boolean => {
    const load = loadOf(question, block, { keysOf: () => [], isTogether: () => false }, 'all');
    const withInputs = boards.map((_, board) => board).filter((board) => left[board]!.inputs >= load.inputs);
    const spare = (board: number) =>
      Math.min(left[board]!.auxAmps - load.auxAmps, left[board]!.supplyAmps - load.supplyAmps);
    const board =
      withInputs.find((candidate) => candidate === load.board) ??
      withInputs.find((candidate) => carries(left[candidate]!, load)) ??
      [...withInputs].sort((a, b) => spare(b) - spare(a))[0];
    if (board === undefined) return false;
    left[board]!.inputs -= load.inputs;
    left[board]!.auxAmps -= load.auxAmps;
    left[board]!.supplyAmps -= load.supplyAmps;
    for (const group of block) boardOf.set(group, board);
    return true;
  };
  const whole = blocksOf(question, {
    keysOf: ({ returns, feeds }) => [...returns, ...feeds],
    isTogether: () => false,
  });
  for (const block of whole.filter((one) => !put(one))) for (const group of block) put([group]);
  return boardOf;
}

function carries(room: Room, { auxAmps, supplyAmps }: Load): boolean {
  return !isOver(auxAmps, room.auxAmps) && !isOver(supplyAmps, room.supplyAmps);
}
