/** What something takes of a board, or what a board has left; in whole units, so that sums are exact. */
export type Share = { readonly inputs: number; readonly aux: number; readonly supply: number };

/** Changes before it is given up: nearly every way that can be had so is had within a few. */
const MOST_CHANGES = 60;
/** What was moved stays for so many changes, so that nothing goes to and fro. */
const RESTS = 6;

/**
 * Looks for a board for each item: each where there is most current for each free input, then change by change
 * whatever takes most off what is too much. Finds nearly every way that there is, and proves nothing where it
 * finds none.
 */
export function repair(items: readonly Share[], rooms: readonly Share[]): number[] | null {
  const left = rooms.map(({ inputs, aux, supply }) => ({
    inputs,
    aux: Math.max(0, aux),
    supply: Math.max(0, supply),
  }));
  const boardOf = new Array<number>(items.length).fill(-1);
  const heaviest = items.map((_, index) => index).sort((a, b) => items[b]!.aux - items[a]!.aux || a - b);
  for (const index of heaviest) {
    const board = roomiest(left, items[index]!);
    if (board < 0) return null;
    put(index, board);
  }
  const movedAt = new Array<number>(items.length).fill(-RESTS);
  for (let change = 0; change < MOST_CHANGES; change++) {
    if (left.every((room) => excess(room) === 0)) return boardOf;
    const best = bestChange(change);
    if (!best) return null;
    const { index, back, board } = best;
    const from = boardOf[index]!;
    put(index, board);
    movedAt[index] = change;
    if (back === null) continue;
    put(back, from);
    movedAt[back] = change;
  }
  return null;

  function put(index: number, board: number): void {
    const item = items[index]!;
    const from = left[boardOf[index]!];
    if (from) add(from, item, 1);
    add(left[board]!, item, -1);
    boardOf[index] = board;
  }

  /** The move off a board that has too much, or the swap, after which the two boards have least too much. */
  function bestChange(change: number) {
    let best: { index: number; back: number | null; board: number } | null = null;
    let least = Number.POSITIVE_INFINITY;
    const isFree = (index: number) => change - movedAt[index]! >= RESTS;
    items.forEach((item, index) => {
      const from = left[boardOf[index]!]!;
      if (excess(from) === 0 || !isFree(index)) return;
      const weigh = (back: number | null, board: number) => {
        const gain = gainOf(from, left[board]!, item, back === null ? NOTHING : items[back]!);
        if (gain < least) {
          least = gain;
          best = { index, back, board };
        }
      };
      for (const board of left.keys()) if (board !== boardOf[index]) weigh(null, board);
      items.forEach((other, back) => {
        if (boardOf[back] === boardOf[index] || !isFree(back)) return;
        if (other.aux < item.aux || other.supply < item.supply) weigh(back, boardOf[back]!);
      });
    });
    return best as { index: number; back: number | null; board: number } | null;
  }
}

type Left = { inputs: number; aux: number; supply: number };

const NOTHING: Share = { inputs: 0, aux: 0, supply: 0 };

function add(room: Left, item: Share, times: 1 | -1): void {
  room.inputs += times * item.inputs;
  room.aux += times * item.aux;
  room.supply += times * item.supply;
}

function excess({ aux, supply }: Share): number {
  return Math.max(0, -aux) + Math.max(0, -supply);
}

/** By how much more is too much once the one has gone and the other come; `Infinity` where inputs are short. */
function gainOf(from: Share, to: Share, goes: Share, comes: Share): number {
  if (to.inputs + comes.inputs < goes.inputs || from.inputs + goes.inputs < comes.inputs)
    return Number.POSITIVE_INFINITY;
  const after = (room: Share, off: Share, on: Share) =>
    excess({ inputs: 0, aux: room.aux + off.aux - on.aux, supply: room.supply + off.supply - on.supply });
  return after(from, goes, comes) + after(to, comes, goes) - excess(from) - excess(to);
}

/** Where most current is left for each free input: what stands ready for the heaviest. */
function roomiest(left: readonly Left[], item: Share): number {
  let best = -1;
  let most = Number.NEGATIVE_INFINITY;
  for (const [board, room] of left.entries()) {
    const perInput = Math.min(room.aux, room.supply) / Math.max(1, room.inputs);
    if (room.inputs < item.inputs || perInput <= most) continue;
    most = perInput;
    best = board;
  }
  return best;
}
