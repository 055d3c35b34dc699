import { type Done, fold, type Misfit } from '../wiring/act-on.ts';
import type { Wiring } from '../wiring/wiring.ts';

type Folded = { readonly wiring: Wiring; readonly misfits: readonly Misfit[] };

/**
 * Folds acts over a wiring, and next time only those that came since: a record grows by one act after the other, and its
 * wiring is asked for after each.
 */
export class FoldOn {
  #start: Wiring | null = null;
  #done: readonly Done[] = [];
  #folded: Folded | null = null;

  fold(start: Wiring, done: readonly Done[]): Folded {
    const goesOn =
      this.#folded !== null && this.#start === start && this.#done.every((one, at) => isSame(one, done[at]));
    const before: Folded = goesOn ? this.#folded! : { wiring: start, misfits: [] };
    const { wiring, misfits } = fold(before.wiring, goesOn ? done.slice(this.#done.length) : done);
    this.#start = start;
    this.#done = done;
    this.#folded = { wiring, misfits: [...before.misfits, ...misfits] };
    return this.#folded;
  }
}

function isSame(one: Done, other: Done | undefined): boolean {
  return other !== undefined && one.act === other.act && one.went === other.went;
}
