import type { JsonObject } from '../journal/canonical.ts';
import type { Standing } from './as-it-is.ts';
import { piecesOf } from './basis.ts';
import type { Difference } from './differences.ts';

/** How the wiring stands, and what of it is not as planned: as it is now, and as it is left once the job is closed. */
export type AsLeft = Standing & { readonly differs: readonly Difference[] };

const PART = 'left';

/** The data of the records that store it, before the one that closes the job. */
export function asLeftRecords(left: AsLeft, set: number): JsonObject[] {
  return piecesOf(PART, JSON.stringify(left), set);
}

/** Puts it together again from its records. */
export class AsLeftReader {
  #pieces: string[] = [];

  take({ part, piece, text }: JsonObject): void {
    if (part !== PART || typeof text !== 'string') return;
    // What was stored before a close that did not come is out of date.
    if (piece === 1) this.#pieces = [];
    this.#pieces.push(text);
  }

  read(): AsLeft | null {
    return this.#pieces.length === 0 ? null : (JSON.parse(this.#pieces.join('')) as AsLeft);
  }
}
