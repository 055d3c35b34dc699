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

/** Currents are compared as whole picoamps, so that a sum is the same in any order; equality fits. */
const PICO = 1e12;
const EQUAL_PART = 1e-9;

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
  const inPico = (amps: number) => Math.round(amps * (1 + EQUAL_PART) * PICO);
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

  run(): readonly number[] | 'none' | 'given-up' {
    if (this.#place(0)) return this.#boardOf;
    return this.tries < 0 ? 'given-up' : 'none';
  }

  #place(step: number): boolean {
    const item = this.#order[step];
    if (!item) return true;
    const demand = this.#after[step]!;
    if (!isEnough(this.#left, demand)) return false;
    if (demand.isPlain) return this.#fill(step);
    const state = `${step};${this.#left.map(wordOf).sort().join(';')}`;
    if (this.#failed.has(state) || --this.tries < 0) return false;
    const fixed = this.#fixed[item.index]!;
    const seen = new Set<string>();
    for (const board of fixed === null ? tightestFirst(this.#left, item) : [fixed]) {
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
    for (const [common, free] of room.commons.entries()) {
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
  readonly isPlain: boolean;
};

function demandsFrom(order: readonly Item[], fixed: readonly (number | null)[]): Demand[] {
  let demand: Demand = {
    inputs: 0,
    aux: 0,
    supply: 0,
    leastAux: Infinity,
    leastSupply: Infinity,
    isPlain: true,
  };
  const demands: Demand[] = [];
  for (const item of [...order].reverse()) {
    demand = {
      inputs: demand.inputs + item.inputs,
      aux: demand.aux + item.aux,
      supply: demand.supply + item.supply,
      leastAux: item.aux > 0 ? Math.min(demand.leastAux, item.aux) : demand.leastAux,
      leastSupply: item.supply > 0 ? Math.min(demand.leastSupply, item.supply) : demand.leastSupply,
      isPlain: demand.isPlain && isPlain(item) && fixed[item.index] === null,
    };
    demands.push(demand);
  }
  return demands.reverse();
}

/** Current where no input is free, or less than any load draws, is of no use. */
function isEnough(left: readonly Left[], demand: Demand): boolean {
  let inputs = 0;
  let aux = 0;
  let supply = 0;
  for (const room of left) {
    inputs += room.inputs;
    if (room.inputs === 0) continue;
    if (room.aux >= demand.leastAux) aux += room.aux;
    if (room.supply >= demand.leastSupply) supply += room.supply;
  }
  return inputs >= demand.inputs && aux >= demand.aux && supply >= demand.supply;
}

function tightestFirst(left: readonly Left[], { aux }: Item): number[] {
  const spare = (room: Left) => (aux > 0 ? room.aux : room.inputs);
  return left.map((_, board) => board).sort((a, b) => spare(left[a]!) - spare(left[b]!) || a - b);
}
