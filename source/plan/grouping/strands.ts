/** What is weighed of an item: how many detectors, how much they matter, and whether it asks for an input. */
export type Weight = { readonly size: number; readonly importance: number; readonly asks: boolean };

/** Of every number of groups the least loss found; index: number of groups, as far as was asked for. */
export type StrandCurve = {
  readonly loss: readonly number[];
  /** Group number of every weight. */
  readonly vectorOf: (groups: number) => number[];
};

/** Weights of one strand, the dearest first; a group takes a run of each strand. */
type Strand = {
  readonly asks: boolean;
  readonly items: readonly number[];
  /** Sums over the first so many of it. */
  readonly size: Float64Array;
  readonly importance: Float64Array;
};

/** States times groups beyond which the tables would not fit. */
const MOST_CELLS = 2_000_000;

/**
 * The least loss of every number of groups, where anything may share but two that ask for different inputs.
 *
 * Σ importance × size over the groups is what is minimised. Let the groups' sizes stand: of two items of equal
 * size that could change places, the dearer belongs in the smaller group. So with the groups in order of
 * size, each kind of item (one size; asking or not) is cut into runs, the dearest first, and the groups come one
 * after another, each no larger than the average of what is left. Weighing all such runs is exact; `null` where
 * that takes more than `budget` steps.
 */
export function weighStrands(weights: readonly Weight[], most: number, budget: number): StrandCurve | null {
  const kinds = new Map<string, number[]>();
  weights.forEach(({ size, asks }, index) => {
    const kind = `${asks} ${size}`;
    kinds.set(kind, [...(kinds.get(kind) ?? []), index]);
  });
  return cutStrands(weights, [...kinds.values()], most, budget, 0);
}

/**
 * As {@link weighStrands}, with unequal sizes in one strand by what they matter a detector: a good grouping
 * without proof. `null` where even that is too much.
 */
export function guessStrands(weights: readonly Weight[], most: number): StrandCurve | null {
  const all = weights.map((_, index) => index);
  const strands = [all.filter((index) => !weights[index]!.asks), all.filter((index) => weights[index]!.asks)];
  const sizes = weights.map(({ size }) => size);
  return cutStrands(
    weights,
    strands.filter(({ length }) => length > 0),
    most,
    Number.POSITIVE_INFINITY,
    Math.max(...sizes) - Math.min(...sizes),
  );
}

/** The table of one search: what is cut, and how far the search has come. */
function cutStrands(
  weights: readonly Weight[],
  members: readonly (readonly number[])[],
  most: number,
  budget: number,
  slack: number,
): StrandCurve | null {
  // The longest strand is the innermost loop.
  const strands = [...members].sort((a, b) => a.length - b.length).map((of) => strandOf(weights, of));
  // A state is how many of each strand are gone, as one number with a digit for each.
  const digit: number[] = [];
  let states = 1;
  for (const { items } of strands) {
    digit.push(states);
    states *= items.length + 1;
  }
  if (states * most > MOST_CELLS) return null;
  const left = statesLeft(strands, digit, states);
  const total = left.importance[0]!;
  const gone = (state: number, at: number) =>
    Math.floor(state / digit[at]!) % (strands[at]!.items.length + 1);

  const starts = new Int32Array(strands.length);
  let steps = 0;
  let state = 0;
  let largest = 0;
  let least = Infinity;
  let choice = 0;
  // With no group left only the end is reached.
  let before = new Float64Array(states).fill(Infinity);
  before[states - 1] = 0;
  const nextOf: Int32Array[] = [];
  const loss = [Infinity];
  for (let groups = 1; groups <= most; groups++) {
    const sums = new Float64Array(states).fill(Infinity);
    const next = new Int32Array(states);
    for (state = 0; state < states - 1; state++) {
      if (left.items[state]! < groups || left.asking[state]! > groups) continue;
      least = Infinity;
      if (groups === 1) {
        least = left.importance[state]! * left.size[state]!;
        choice = states - 1;
      } else {
        largest = left.size[state]! / groups + slack;
        for (let at = 0; at < strands.length; at++) starts[at] = gone(state, at);
        take(0, state, 0, 0, false);
      }
      sums[state] = least;
      next[state] = choice;
    }
    if (steps > budget) return null;
    loss.push(sums[0]! - total);
    nextOf.push(next);
    before = sums;
  }
  return { loss, vectorOf };

  /** Weighs every run of the strands from `at` on, beside what the group has taken of those before. */
  function take(at: number, to: number, size: number, importance: number, asks: boolean): void {
    const strand = strands[at]!;
    const { size: sizes, importance: importances } = strand;
    const step = digit[at]!;
    const from = starts[at]!;
    const end = strand.asks ? Math.min(strand.items.length, asks ? from : from + 1) : strand.items.length;
    if (at < strands.length - 1) {
      for (let until = from; until <= end; until++) {
        const taken = size + sizes[until]! - sizes[from]!;
        if (taken > largest && until > from) return;
        const matters = importance + importances[until]! - importances[from]!;
        take(at + 1, to + (until - from) * step, taken, matters, asks || (strand.asks && until > from));
      }
      return;
    }
    let next = to;
    for (let until = from; until <= end; until++, next += step) {
      const taken = size + sizes[until]! - sizes[from]!;
      const here = taken * (importance + importances[until]! - importances[from]!);
      // A longer run only costs more.
      if ((taken > largest && until > from) || here >= least) return;
      steps += 1;
      const sum = here + before[next]!;
      if (sum < least && next !== state) {
        least = sum;
        choice = next;
      }
    }
  }

  function vectorOf(groups: number): number[] {
    const numbers = new Array<number>(weights.length).fill(0);
    let here = 0;
    for (let group = 0; group < groups; group++) {
      const to = nextOf[groups - group - 1]![here]!;
      strands.forEach(({ items }, at) => {
        for (let place = gone(here, at); place < gone(to, at); place++) numbers[items[place]!] = group;
      });
      here = to;
    }
    return numbers;
  }
}

/** Of each state what is still to be grouped. */
function statesLeft(strands: readonly Strand[], digit: readonly number[], states: number) {
  const size = new Float64Array(states);
  const importance = new Float64Array(states);
  const items = new Int32Array(states);
  const asking = new Int32Array(states);
  for (let state = 0; state < states; state++)
    strands.forEach((strand, at) => {
      const from = Math.floor(state / digit[at]!) % (strand.items.length + 1);
      const here = strand.items.length - from;
      size[state]! += strand.size[strand.items.length]! - strand.size[from]!;
      importance[state]! += strand.importance[strand.items.length]! - strand.importance[from]!;
      items[state]! += here;
      if (strand.asks) asking[state]! += here;
    });
  return { size, importance, items, asking };
}

function strandOf(weights: readonly Weight[], of: readonly number[]): Strand {
  const worth = (index: number) => weights[index]!.importance / weights[index]!.size;
  const items = [...of].sort((a, b) => worth(b) - worth(a) || a - b);
  const size = new Float64Array(items.length + 1);
  const importance = new Float64Array(items.length + 1);
  items.forEach((index, at) => {
    size[at + 1] = size[at]! + weights[index]!.size;
    importance[at + 1] = importance[at]! + weights[index]!.importance;
  });
  return { asks: weights[of[0]!]!.asks, items, size, importance };
}
