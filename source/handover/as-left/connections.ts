import { terminalOf } from '../../job/as-it-is.ts';
import type { AsLeft } from '../../job/as-left-record.ts';
import { nodeOf } from '../../plan/connections/destination.ts';
import type { Connection, Plan } from '../../plan/plan.ts';
import { boardOf, isLoose } from '../../wiring/bench.ts';
import type { NodeId } from '../../wiring/wiring.ts';

/** Where a wire is, and the record that put it there; what nobody moved has none. */
export type LeftConnection = Omit<Connection, 'to'> & {
  readonly to: Connection['to'] | { readonly loose: true } | { readonly unknown: true };
  readonly record: number | null;
};

/**
 * Every wire once, where it is as left. One that is where it was planned keeps how it was planned to get there; a job of
 * before acts were recorded knows no other.
 */
export function connectionsLeft(plan: Plan, left: AsLeft | null): LeftConnection[] {
  if (left === null) return plan.connections.map((one) => ({ ...one, record: null }));
  const nearOf = new Map(left.wiring.conductors.map(({ id, near }) => [id, near]));
  return plan.connections.map((connection): LeftConnection => {
    const { conductor, to } = connection;
    const near = nearOf.get(conductor);
    const record = left.by[conductor] ?? null;
    const planned = nodeOf(conductor, to);
    if (near === undefined || terminalOf(near) === planned || ('parked' in to && isLoose(near)))
      return { ...connection, record };
    return { ...connection, ...standsAt(near), record };
  });
}

function standsAt(near: NodeId): Pick<LeftConnection, 'to' | 'by'> {
  if (near.startsWith('unknown:')) return { to: { unknown: true }, by: 'untouched' };
  if (isLoose(near)) return { to: { loose: true }, by: 'untouched' };
  if (near.startsWith('joint:')) return { to: { joint: near }, by: 'splice' };
  const board = boardOf(near);
  return board === null
    ? { to: { stays: near }, by: 'untouched' }
    : { to: { board, terminal: terminalOf(near).slice(board.length + 1) }, by: 'direct' };
}
