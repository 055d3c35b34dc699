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

/** Currents are compared as whole picoamps, so that a sum is the same in any order, and what is equal fits. */
export const PICO = 1e12;

/** What is left of a board while loads are laid on it; currents in picoamps. */
export type Left = { inputs: number; aux: number; supply: number; readonly commons: number[] };
/** A load, its place among the others, and its currents in picoamps. */
export type Item = Load & { readonly index: number; readonly aux: number; readonly supply: number };

/** Loads as they are searched for. */
export function itemsOf(loads: readonly Load[]): Item[] {
  return loads.map((load, index) => ({
    ...load,
    index,
    aux: Math.round(load.auxAmps * PICO),
    supply: Math.round(load.supplyAmps * PICO),
  }));
}

/** A board before anything is laid on it. */
export function leftIn({ inputs, auxAmps, supplyAmps, commons }: Room): Left {
  const inPico = (amps: number) => Math.round(amps * PICO);
  return { inputs, aux: inPico(auxAmps), supply: inPico(supplyAmps), commons: [...commons] };
}

/** Whether a board has inputs and current for one more. */
export function hasRoom(room: Left, { inputs, aux, supply }: Item): boolean {
  // What draws nothing stands anywhere, also where another has taken more than there is.
  return room.inputs >= inputs && (aux === 0 || room.aux >= aux) && (supply === 0 || room.supply >= supply);
}

/** Lays a load on a board, or takes it off again. */
export function take(room: Left, { inputs, aux, supply }: Item, times: 1 | -1): void {
  room.inputs -= times * inputs;
  room.aux -= times * aux;
  room.supply -= times * supply;
}

/** What is left of a board, as a word: two boards with one word are alike. */
export function wordOf({ inputs, aux, supply, commons }: Left): string {
  return `${inputs},${aux},${supply},${[...commons].sort((a, b) => a - b).join('.')}`;
}

/** Whether it takes one input and nothing else. */
export function isPlain({ inputs, aux, supply, together }: Item): boolean {
  return inputs === 1 && aux === 0 && supply === 0 && together.length === 0;
}
