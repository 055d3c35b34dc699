import fc from 'fast-check';

/** The seed of every random check of this room; printed with its figures. */
export const SEED = 20250;

/** A figure spread evenly between two others; fast-check's own doubles crowd at the ends. */
export function between(min: number, max: number): fc.Arbitrary<number> {
  return fc.noBias(fc.integer({ min: 0, max: 1_000_000 }).map((step) => min + ((max - min) * step) / 1e6));
}

/** A figure spread evenly over its orders of magnitude. */
export function betweenMagnitudes(min: number, max: number): fc.Arbitrary<number> {
  return between(Math.log(min), Math.log(max)).map(Math.exp);
}

/** A part within its tolerance: its nominal figure times this. */
export function part(tolerance: number): fc.Arbitrary<number> {
  return between(1 - tolerance, 1 + tolerance);
}
