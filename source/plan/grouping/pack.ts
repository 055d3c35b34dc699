import { repair } from './repair.ts';

/** What a board has left for what is laid on it. */
export type Room = {
  readonly inputs: number;
  readonly auxAmps: number;
  /** What its supply can give to detectors and sounders together. */
  readonly supplyAmps: number;
  /** Free inputs of each of its commons. */
  readonly commons: readonly number[];
};

/** What stands on one board together. */
export type Load = {
  /** The board where one of it has its input already, if any. */
  readonly board: number | null;
  /** Inputs it still takes. */
  readonly inputs: number;
  readonly auxAmps: number;
  readonly supplyAmps: number;
  /** Of these inputs so many are to lie on one common each time; `common` where that is settled already. */
  readonly together: readonly { readonly inputs: number; readonly common: number | null }[];
};

/** A search over loads, which may be asked again with some of them settled on a board. */
export type Packing = (settled: readonly (number | null)[]) => readonly number[] | 'none' | 'given-up';

/** Currents are compared as whole picoamps, so that a sum is the same in any order, and what is equal fits. */
const PICO = 1e12;
/** A microamp, in picoamps: far below what anybody states. */
const SLACK = 1e6;
/** Up to so many inputs of one board the heaviest loads are looked at one by one. */
const MOST_INPUTS = 64;

type Left = { inputs: number; aux: number; supply: number; readonly commons: number[] };
type Item = Load & { readonly index: number; readonly aux: number; readonly supply: number };

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

function itemsOf(loads: readonly Load[]): Item[] {
  return loads.map((load, index) => ({
    ...load,
    index,
    aux: Math.round(load.auxAmps * PICO),
    supply: Math.round(load.supplyAmps * PICO),
  }));
}

function leftIn({ inputs, auxAmps, supplyAmps, commons }: Room): Left {
  const inPico = (amps: number) => Math.round(amps * PICO);
  return { inputs, aux: inPico(auxAmps), supply: inPico(supplyAmps), commons: [...commons] };
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

function hasRoom(room: Left, { inputs, aux, supply }: Item): boolean {
  // What draws nothing stands anywhere, also where another has taken more than there is.
  return room.inputs >= inputs && (aux === 0 || room.aux >= aux) && (supply === 0 || room.supply >= supply);
}

function take(room: Left, { inputs, aux, supply }: Item, times: 1 | -1): void {
  room.inputs -= times * inputs;
  room.aux -= times * aux;
  room.supply -= times * supply;
}

function wordOf({ inputs, aux, supply, commons }: Left): string {
  return `${inputs},${aux},${supply},${[...commons].sort((a, b) => a - b).join('.')}`;
}

function isPlain({ inputs, aux, supply, together }: Item): boolean {
  return inputs === 1 && aux === 0 && supply === 0 && together.length === 0;
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

/** What all loads from a step on take, and the least current that any of them draws. */
type Demand = {
  readonly inputs: number;
  readonly aux: number;
  readonly supply: number;
  readonly leastAux: number;
  readonly leastSupply: number;
  /** The heaviest shares of current that go with one input each, heaviest first. */
  readonly mostAux: readonly number[];
  readonly mostSupply: readonly number[];
  /** How many sets for one common take at least so many inputs; index: inputs. */
  readonly sets: readonly number[];
  /** Nothing of it is tied to a board or a common. */
  readonly isLoose: boolean;
  readonly isPlain: boolean;
};

function demandsFrom(order: readonly Item[], fixed: readonly (number | null)[]): Demand[] {
  let demand: Demand = {
    inputs: 0,
    aux: 0,
    supply: 0,
    leastAux: Infinity,
    leastSupply: Infinity,
    mostAux: [],
    mostSupply: [],
    sets: [],
    isLoose: true,
    isPlain: true,
  };
  const demands: Demand[] = [];
  for (const item of [...order].reverse()) {
    // What takes no input stands on its board already; whether that carries it is seen when it is placed.
    const isFree = item.inputs > 0;
    demand = {
      inputs: demand.inputs + item.inputs,
      aux: demand.aux + (isFree ? item.aux : 0),
      supply: demand.supply + (isFree ? item.supply : 0),
      mostAux: isFree ? withHeavy(demand.mostAux, item.aux, item.inputs) : demand.mostAux,
      mostSupply: isFree ? withHeavy(demand.mostSupply, item.supply, item.inputs) : demand.mostSupply,
      leastAux: item.aux > 0 ? Math.min(demand.leastAux, item.aux) : demand.leastAux,
      leastSupply: item.supply > 0 ? Math.min(demand.leastSupply, item.supply) : demand.leastSupply,
      sets: item.together.reduce((sets, { inputs }) => withSet(sets, inputs), demand.sets),
      isLoose: demand.isLoose && item.together.length === 0 && fixed[item.index] === null,
      isPlain: demand.isPlain && isPlain(item) && fixed[item.index] === null,
    };
    demands.push(demand);
  }
  return demands.reverse();
}

/** The loads from a step on with one more, as shares of an input each; no board has more inputs than are kept. */
function withHeavy(heavy: readonly number[], current: number, inputs: number): number[] {
  const share = current / inputs;
  const at = heavy.findIndex((one) => one < share);
  const more = new Array<number>(inputs).fill(share);
  const kept = at < 0 ? [...heavy, ...more] : [...heavy.slice(0, at), ...more, ...heavy.slice(at)];
  return kept.slice(0, MOST_INPUTS);
}

/** Current is of use only where inputs are free, and no more of it than the heaviest loads for them draw. */
function isEnough(left: readonly Left[], demand: Demand): boolean {
  let inputs = 0;
  let aux = 0;
  let supply = 0;
  for (const room of left) {
    inputs += room.inputs;
    aux += usable(room.aux, room.inputs, demand.leastAux, demand.mostAux);
    supply += usable(room.supply, room.inputs, demand.leastSupply, demand.mostSupply);
  }
  // Shares of an input are no whole numbers: what a sum of them is off by is far below a microamp.
  if (inputs < demand.inputs || aux + SLACK < demand.aux || supply + SLACK < demand.supply) return false;
  return demand.sets.every((sets, size) => size === 0 || sets === 0 || setsThatFit(left, size) >= sets);
}

function usable(current: number, inputs: number, least: number, most: readonly number[]): number {
  if (inputs === 0 || current < least) return 0;
  if (inputs > MOST_INPUTS) return current;
  let sum = 0;
  for (let at = 0; at < inputs && at < most.length && sum < current; at++) sum += most[at]!;
  return Math.min(current, sum);
}

/** How many sets of a size the boards have room for at most. */
function setsThatFit(left: readonly Left[], size: number): number {
  let fit = 0;
  for (const { inputs, commons } of left) {
    let here = 0;
    for (const free of commons) here += Math.floor(free / size);
    fit += Math.min(here, Math.floor(inputs / size));
  }
  return fit;
}

function withSet(sets: readonly number[], inputs: number): number[] {
  const length = Math.max(sets.length, inputs + 1);
  return Array.from({ length }, (_, size) => (sets[size] ?? 0) + Number(size > 0 && size <= inputs));
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
