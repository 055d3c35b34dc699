import type { WiredConductor } from '../../wiring/wiring.ts';
import type { Connection } from '../plan.ts';

/** Where a conductor goes, before it is settled how it gets under its screw. */
export type Destination = Connection['to'];

/** Destinations by conductor; each conductor gets exactly one, the first that is given. */
export class Destinations {
  readonly #to = new Map<string, Destination>();

  send(conductors: readonly WiredConductor[], to: Destination): void {
    for (const { id } of conductors) if (!this.#to.has(id)) this.#to.set(id, to);
  }

  of(conductor: string): Destination | undefined {
    return this.#to.get(conductor);
  }
}

/**
 * The node a conductor's panel end is at once it has gone where it goes.
 *
 * @example nodeOf('c1/1', {board: 'b1', terminal: 'I1'}) // => 'b1:I1'
 * @example nodeOf('c1/1', {parked: true}) // => 'c1/1'
 */
export function nodeOf(conductor: string, to: Destination): string {
  if ('terminal' in to) return `${to.board}:${to.terminal}`;
  if ('joint' in to) return to.joint;
  return 'stays' in to ? to.stays : conductor;
}
