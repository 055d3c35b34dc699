/** The seeded generator behind every random survey: mulberry32, public domain. */
export class Chance {
  #state: number;
  constructor(seed: number) {
    this.#state = (seed * 2654435761 + 0x9e3779b9) | 0;
  }
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }
  is(share: number): boolean {
    return this.next() < share;
  }
  from(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }
  pick<T>(...choices: readonly T[]): T {
    return choices[Math.floor(this.next() * choices.length)]!;
  }
}
