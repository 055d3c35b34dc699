import { guessStrands, type Weight } from './strands.ts';

/**
 * What no grouping can lose less than, for every number of groups: the greater of two easier questions, each
 * of which any grouping answers at no more than its own loss.
 *
 * - Cut into single detectors, what a unit holds need not stand together.
 * - With every unit as small as one detector, two that share lose less; what each loses by itself is added.
 *
 * Both have one size only, so that cutting strands is exact.
 */
export function lossBounds(weights: readonly Weight[], most: number): number[] {
  const pieces = weights.flatMap(({ size, importance, asks }) =>
    Array.from(
      { length: size },
      (_, at): Weight => ({
        size: 1,
        importance: importance / size,
        asks: asks && at === 0,
      }),
    ),
  );
  const small = weights.map(({ importance, asks }): Weight => ({ size: 1, importance, asks }));
  const within = weights.reduce((sum, { size, importance }) => sum + importance * (size - 1), 0);
  const inPieces = exactlyCut(pieces, most);
  const asSmall = exactlyCut(small, most);
  // Every loss is a whole number; a piece's share of importance is not, and its sum is off in the last place.
  return inPieces.map((loss, groups) => Math.ceil(Math.max(loss, asSmall[groups]! + within) - 1e-6));
}

/** Where the table would not fit, what asks for an input may be anywhere: easier still. */
function exactlyCut(weights: readonly Weight[], most: number): readonly number[] {
  const asked = guessStrands(weights, most) ?? guessStrands(anywhere(weights), most);
  return asked?.loss ?? new Array<number>(most + 1).fill(0);
}

function anywhere(weights: readonly Weight[]): Weight[] {
  return weights.map((weight) => ({ ...weight, asks: false }));
}
