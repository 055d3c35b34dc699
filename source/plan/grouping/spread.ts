import type { Board } from '../../site/board.ts';
import type { Group } from './group.ts';
import type { Ties } from './place.ts';

/** Boards up to which every way of spreading groups is weighed. */
const WEIGH_BOARDS = 4;
/** Where weighing would take longer than somebody waits for a plan. */
const MOST_TRIES = 20_000;

/** Groups that must stand on one board together. */
type Block = { readonly groups: readonly Group[]; readonly board: number | null; readonly auxAmps: number };

/**
 * Which board each group stands on. The first way, in survey order and board order, in which no board has
 * more groups than inputs nor more current on its aux than it gives; where there is none, each block goes to
 * the first board with inputs free and the current to spare, or the most to spare.
 */
export function spreadOverBoards(
  groups: readonly Group[],
  boards: readonly Board[],
  tiesOf: (group: Group) => Ties,
): { boardOf: ReadonlyMap<Group, number>; exact: boolean } {
  const blocks = blocksOf(groups, boards, tiesOf);
  const weighed = boards.length <= WEIGH_BOARDS ? weigh(blocks, boards) : 'too-many';
  const boardOf = Array.isArray(weighed)
    ? new Map(
        blocks.flatMap((block, index) => block.groups.map((group) => [group, weighed[index]!] as const)),
      )
    : firstFit(blocks, boards, tiesOf);
  return { boardOf, exact: weighed !== 'too-many' };
}

function blocksOf(
  groups: readonly Group[],
  boards: readonly Board[],
  tiesOf: (group: Group) => Ties,
): Block[] {
  const mostInputs = Math.max(0, ...boards.map((board) => board.inputs.length));
  const blockOf = new Map<string, Group[]>();
  const blocks: Group[][] = [];
  for (const group of groups) {
    const ties = tiesOf(group);
    const keys = [...ties.returns, ...ties.feeds];
    const found = [...new Set(keys.map((key) => blockOf.get(key)).filter((block) => block !== undefined))];
    const joined = found[0];
    let block: Group[];
    if (joined && found.reduce((sum, one) => sum + one.length, 1) <= mostInputs && sameAsked(found, group)) {
      block = joined;
      for (const other of found.slice(1)) {
        block.push(...other.splice(0));
        for (const [key, value] of blockOf) if (value === other) blockOf.set(key, block);
      }
      block.push(group);
    } else {
      block = [group];
      blocks.push(block);
    }
    for (const key of keys) blockOf.set(key, block);
  }
  return blocks
    .filter((block) => block.length > 0)
    .map((block) => ({
      groups: block,
      board: block.map((group) => askedBoard(group, boards)).find((board) => board !== null) ?? null,
      auxAmps: block.reduce((sum, group) => sum + tiesOf(group).auxAmps, 0),
    }));

  function sameAsked(found: readonly (readonly Group[])[], group: Group): boolean {
    const asked = [...found.flat(), group]
      .map((one) => askedBoard(one, boards))
      .filter((board) => board !== null);
    return new Set(asked).size <= 1;
  }
}

function askedBoard(group: Group, boards: readonly Board[]): number | null {
  const asked = group.units.find((unit) => unit.asked !== null)?.asked;
  const index = boards.findIndex((board) =>
    board.inputs.some((input) => `${board.id}/${input.id}` === asked),
  );
  return index < 0 ? null : index;
}

/** Depth first with a memory of what failed; `null` where no way carries everything. */
function weigh(blocks: readonly Block[], boards: readonly Board[]): number[] | null | 'too-many' {
  const inputs = boards.map((board) => board.inputs.length);
  const amps = boards.map((board) => board.aux.amps);
  const order = askedFirst(blocks).map((block) => blocks.indexOf(block));
  const needed = blocks.reduce((sum, block) => sum + block.groups.length, 0);
  if (needed > inputs.reduce((sum, one) => sum + one, 0)) return null;
  const drawn = blocks.reduce((sum, block) => sum + block.auxAmps, 0);
  if (drawn > amps.reduce((sum, one) => sum + one, 0) + 1e-9) return null;
  if (blocks.some((block) => block.auxAmps > Math.max(...amps) + 1e-9)) return null;
  const chosen = new Array<number>(blocks.length).fill(-1);
  const failed = new Set<string>();
  let tries = 0;

  function place(step: number): boolean {
    if (step === order.length) return true;
    // Currents to the tenth of a milliamp, so that equal states are seen as equal.
    const state = `${step}|${inputs.join()}|${amps.map((left) => Math.round(left * 1e4)).join()}`;
    if (failed.has(state) || ++tries > MOST_TRIES) return false;
    const block = blocks[order[step]!]!;
    for (let board = 0; board < boards.length; board++) {
      if (block.board !== null && block.board !== board) continue;
      if (inputs[board]! < block.groups.length) continue;
      if (block.auxAmps > 0 && amps[board]! + 1e-9 < block.auxAmps) continue;
      inputs[board]! -= block.groups.length;
      amps[board]! -= block.auxAmps;
      chosen[order[step]!] = board;
      if (place(step + 1)) return true;
      inputs[board]! += block.groups.length;
      amps[board]! += block.auxAmps;
    }
    failed.add(state);
    return false;
  }
  if (place(0)) return chosen;
  return tries > MOST_TRIES ? 'too-many' : null;
}

function firstFit(
  blocks: readonly Block[],
  boards: readonly Board[],
  tiesOf: (group: Group) => Ties,
): Map<Group, number> {
  const inputs = boards.map((board) => board.inputs.length);
  const amps = boards.map((board) => board.aux.amps);
  const boardOf = new Map<Group, number>();
  const place = (block: Block): boolean => {
    const withRoom = boards.map((_, board) => board).filter((board) => inputs[board]! >= block.groups.length);
    const board =
      withRoom.find((candidate) => candidate === block.board) ??
      withRoom.find((candidate) => amps[candidate]! + 1e-9 >= block.auxAmps) ??
      withRoom.sort((a, b) => amps[b]! - amps[a]!)[0];
    if (board === undefined) return false;
    inputs[board]! -= block.groups.length;
    amps[board]! -= block.auxAmps;
    for (const group of block.groups) boardOf.set(group, board);
    return true;
  };
  const apart: Block[] = [];
  for (const block of askedFirst(blocks))
    if (!place(block))
      for (const group of block.groups)
        apart.push({ groups: [group], board: block.board, auxAmps: tiesOf(group).auxAmps });
  apart.forEach(place);
  return boardOf;
}

/** Blocks tied to a board by an input asked for take their place first, so that nothing else takes it. */
function askedFirst(blocks: readonly Block[]): Block[] {
  return [
    ...blocks.filter((block) => block.board !== null),
    ...blocks.filter((block) => block.board === null),
  ];
}
