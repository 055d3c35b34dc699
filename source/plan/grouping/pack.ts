import { type Demand, demandsFrom, isEnough } from './demand.ts';
import {
  hasRoom,
  type Item,
  isPlain,
  itemsOf,
  type Left,
  type Load,
  leftIn,
  PICO,
  type Room,
  take,
  wordOf,
} from './load.ts';
import { repair } from './repair.ts';

/** A search over loads, which may be asked again with some of them settled on a board. */
export type Packing = (settled: readonly (number | null)[]) => readonly number[] | 'none' | 'given-up';

/**
 * Looks for a board for each load so that no board has more on it than it has inputs, current and room on its
 * commons. Depth first, the hardest load first, with what has failed remembered and boards that are alike
 * taken as one; `none` is proved, `given-up` is not.
 *
 * @param most ways that may be tried, over all times it is asked
 */
export function packing(loads: readonly Load[], rooms: readonly Room[], most: number): Packing {
  const items = itemsOf(loads);
  let tries = most;
  return (settled) => {
    if (tries <= 0) return 'given-up';
    const search = new Search(items, rooms, settled, tries);
    const found = search.run();
    tries = search.tries;
    return found;
  };
}

/** Each load in turn on the first board that has room; `null` where that does not do for all of them. */
export function firstWay(loads: readonly Load[], rooms: readonly Room[]): number[] | null {
  const left = rooms.map(leftIn);
  const boardOf: number[] = [];
  for (const item of itemsOf(loads)) {
    const board = left.findIndex(
      (room, at) => (item.board === null || item.board === at) && hasRoom(room, item) && seat(room, item),
    );
    if (board < 0) return null;
    take(left[board]!, item, 1);
    boardOf.push(board);
  }
  return boardOf;
}

/** Takes the first common that has room for each set that lies together, or none at all. */
function seat(room: Left, { together }: Item): boolean {
  const free = [...room.commons];
  for (const { inputs, common } of together) {
    const at = common ?? free.findIndex((inputsFree) => inputsFree >= inputs);
    if ((free[at] ?? -1) < inputs) return false;
    free[at]! -= inputs;
  }
  room.commons.splice(0, free.length, ...free);
  return true;
}

class Search {
  tries: number;
  readonly #left: Left[];
  readonly #order: readonly Item[];
  readonly #after: readonly Demand[];
  readonly #fixed: readonly (number | null)[];
  readonly #boardOf: number[];
  readonly #failed = new Set<string>();
  #prefer: Preference = PREFERENCES[0]!;

  constructor(
    items: readonly Item[],
    rooms: readonly Room[],
    settled: readonly (number | null)[],
    tries: number,
  ) {
    this.tries = tries;
    this.#left = rooms.map(leftIn);
    this.#fixed = items.map(({ index, board }) => settled[index] ?? board);
    this.#order = hardestFirst(items, this.#left, this.#fixed);
    this.#after = demandsFrom(this.#order, this.#fixed);
    this.#boardOf = new Array<number>(items.length).fill(-1);
  }

  /** Each preference among boards has its share of the tries; what one proved to fail the next need not try. */
  run(): readonly number[] | 'none' | 'given-up' {
    const all = this.tries;
    for (const [at, prefer] of PREFERENCES.entries()) {
      const share = Math.ceil(((at + 1) * all) / PREFERENCES.length);
      const kept = all - share;
      this.tries -= kept;
      this.#prefer = prefer;
      const isFound = this.#place(0);
      const isOver = this.tries < 0;
      this.tries = Math.max(0, this.tries) + kept;
      if (isFound) return this.#boardOf;
      if (!isOver) return 'none';
    }
    return 'given-up';
  }

  #place(step: number): boolean {
    const item = this.#order[step];
    if (!item) return true;
    const demand = this.#after[step]!;
    if (!isEnough(this.#left, demand)) return false;
    if (demand.isPlain) return this.#fill(step);
    // Once all that is tied to a board or a common has its place, the rest is mostly found at once.
    if (demand.isLoose && !(this.#after[step - 1]?.isLoose ?? false) && this.#repair(step)) return true;
    const state = `${step};${this.#left.map(wordOf).sort().join(';')}`;
    if (this.#failed.has(state) || --this.tries < 0) return false;
    const fixed = this.#fixed[item.index]!;
    const seen = new Set<string>();
    for (const board of fixed === null
      ? inOrderOf(this.#left, (room) => this.#prefer(room, item))
      : [fixed]) {
      const room = this.#left[board]!;
      if (!hasRoom(room, item)) continue;
      const word = wordOf(room);
      if (seen.has(word)) continue;
      seen.add(word);
      this.#boardOf[item.index] = board;
      if (this.#put(item, room, 0, step)) return true;
      if (this.tries < 0) return false;
    }
    this.#failed.add(state);
    return false;
  }

  /** Gives each set that lies together its common, then goes on to the next load. */
  #put(item: Item, room: Left, set: number, step: number): boolean {
    const together = item.together[set];
    if (!together) {
      take(room, item, 1);
      if (this.#place(step + 1)) return true;
      take(room, item, -1);
      return false;
    }
    const seen = new Set<number>();
    const tightest = [...room.commons.entries()].sort(([, a], [, b]) => a - b);
    for (const [common, free] of tightest) {
      if (free < together.inputs || (together.common !== null && together.common !== common)) continue;
      // Commons with equally many free inputs are alike, once those that are settled are taken.
      if (together.common === null && seen.has(free)) continue;
      seen.add(free);
      room.commons[common]! -= together.inputs;
      if (this.#put(item, room, set + 1, step)) return true;
      room.commons[common]! += together.inputs;
      if (this.tries < 0) return false;
    }
    return false;
  }

  #repair(step: number): boolean {
    const rest = this.#order.slice(step);
    const found = repair(rest, this.#left);
    for (const [at, board] of (found ?? []).entries()) this.#boardOf[rest[at]!.index] = board;
    return found !== null;
  }

  /** What takes one input and nothing else goes wherever one is free. */
  #fill(step: number): boolean {
    for (const item of this.#order.slice(step)) {
      const board = this.#left.findIndex(({ inputs }) => inputs > 0);
      this.#boardOf[item.index] = board;
      this.#left[board]!.inputs -= 1;
    }
    return true;
  }
}

/** What is settled comes first, for it makes boards and commons unlike; then what takes most of what there is. */
function hardestFirst(
  items: readonly Item[],
  left: readonly Left[],
  fixed: readonly (number | null)[],
): Item[] {
  const all = (of: (room: Left) => number) =>
    Math.max(
      1,
      left.reduce((sum, room) => sum + of(room), 0),
    );
  const aux = all((room) => room.aux);
  const supply = all((room) => room.supply);
  const inputs = all((room) => room.inputs);
  const hardness = (item: Item) => {
    if (item.together.some(({ common }) => common !== null)) return 5;
    if (fixed[item.index] !== null) return 4;
    if (isPlain(item)) return 0;
    return (
      Math.max(item.aux / aux, item.supply / supply) + item.inputs / inputs + Number(item.together.length > 0)
    );
  };
  return items
    .map((item) => ({ item, hard: hardness(item) }))
    .sort((a, b) => b.hard - a.hard || a.item.index - b.item.index)
    .map(({ item }) => item);
}

/** How late a board is tried for an item; the least comes first. */
type Preference = (room: Left, item: Item) => number;

/** What is left of current for each input that is left: what stands ready for the heaviest. */
const perInput = ({ aux, inputs }: Left) => aux / Math.max(1, inputs);

const PREFERENCES: readonly Preference[] = [
  // Current where there is most of it for each input; a set on the common that it fills best.
  (room, { together }) => {
    const size = Math.max(0, ...together.map(({ inputs }) => inputs));
    return size * tightestCommon(room, size) * PICO - perInput(room);
  },
  // The board that it fills best.
  (room, { aux, together }) => {
    const size = Math.max(0, ...together.map(({ inputs }) => inputs));
    if (size > 0) return tightestCommon(room, size) * PICO + room.aux;
    return aux > 0 ? room.aux : room.inputs;
  },
  (room) => -perInput(room),
];

function tightestCommon({ commons }: Left, size: number): number {
  let least = Number.MAX_SAFE_INTEGER / PICO;
  for (const free of commons) if (free >= size && free < least) least = free;
  return least;
}

function inOrderOf(left: readonly Left[], lateness: (room: Left) => number): number[] {
  return left
    .map((room, board) => ({ board, late: lateness(room) }))
    .sort((a, b) => a.late - b.late || a.board - b.board)
    .map(({ board }) => board);
}
