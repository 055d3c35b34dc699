import { type Item, isPlain, type Left } from './load.ts';

/** A microamp, in picoamps: far below what anybody states. */
const SLACK = 1e6;
/** Up to so many inputs of one board the heaviest loads are looked at one by one. */
const MOST_INPUTS = 64;

/** What all loads from a step on take, and the least current that any of them draws. */
export type Demand = {
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

/** What is still to be laid, from each step on. */
export function demandsFrom(order: readonly Item[], fixed: readonly (number | null)[]): Demand[] {
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

/**
 * Whether the boards can have enough for what is still to be laid. Current is of use only where inputs are free, and no
 * more of it than the heaviest loads for them draw.
 */
export function isEnough(left: readonly Left[], demand: Demand): boolean {
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
