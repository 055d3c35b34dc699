/** Numbers drawn by a seed: the same seed gives the same building on every machine. */
export type Random = {
  /** Evenly from 0 up to, not including, 1. */
  readonly next: () => number;
  readonly between: (min: number, max: number) => number;
  readonly pick: <T>(from: readonly T[]) => T;
  readonly shuffled: <T>(from: readonly T[]) => T[];
  /** A stream of its own, so that drawing more of one thing does not move all that follows. */
  readonly stream: (name: string) => Random;
};

/**
 * @param seed any whole number
 * @param name part of the seed: streams of different names are independent
 */
export function seededRandom(seed: number, name = ''): Random {
  let state = hash(`${seed}/${name}`);
  const next = () => {
    // Weyl sequence through a 32-bit mixer: short, fast, and even enough for drawing part values.
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 0x1_0000_0000;
  };
  const pick = <T>(from: readonly T[]): T => {
    const chosen = from[Math.floor(next() * from.length)];
    if (chosen === undefined) throw new RangeError('nothing to pick from');
    return chosen;
  };
  return {
    next,
    between: (min, max) => min + (max - min) * next(),
    pick,
    shuffled: (from) => {
      const left = [...from];
      const out: typeof left = [];
      while (left.length > 0) out.push(...left.splice(Math.floor(next() * left.length), 1));
      return out;
    },
    stream: (inner) => seededRandom(seed, `${name}/${inner}`),
  };
}

/** FNV-1a, 32 bits (the offset and prime of its published definition). */
function hash(text: string): number {
  let value = 0x811c9dc5;
  for (let at = 0; at < text.length; at++) value = Math.imul(value ^ text.charCodeAt(at), 0x01000193);
  return value >>> 0;
}
