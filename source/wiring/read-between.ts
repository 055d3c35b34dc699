import type { Expression } from '../electrical/loop.ts';
import { conductorOf, contactOf, resistorOf, THROUGH } from './elements.ts';
import { type Edge, reduceBetween } from './reduce.ts';
import type { NodeId, Wiring } from './wiring.ts';

type Network = {
  readonly edgesAt: ReadonlyMap<NodeId, readonly Edge[]>;
  readonly nearOf: ReadonlyMap<string, NodeId>;
};

const networks = new WeakMap<Wiring, Network>();

/**
 * What a meter between two places sees, as an expression of the states of the contacts there. Of the loads nothing:
 * ohms are read while all is dead. Every expected reading of a loop, every cold check and every diagnosis starts here.
 *
 * @param a a place, or a conductor by its id: its end towards the panel
 * @returns `open` where nothing joins the two
 */
export function readBetween(wiring: Wiring, a: NodeId, b: NodeId): Expression {
  const network = networkOf(wiring);
  const [from, to] = [network.nearOf.get(a) ?? a, network.nearOf.get(b) ?? b];
  return reduceBetween(between(network, from, to), from, to);
}

/** The place where a conductor's end towards the panel is; a place itself as it is. */
export function placeOf(wiring: Wiring, node: NodeId): NodeId {
  return networkOf(wiring).nearOf.get(node) ?? node;
}

/** What joins this place to others, an edge each. */
export function edgesAt(wiring: Wiring, node: NodeId): readonly Edge[] {
  return networkOf(wiring).edgesAt.get(node) ?? [];
}

function networkOf(wiring: Wiring): Network {
  const known = networks.get(wiring);
  if (known) return known;
  const edgesAt = new Map<NodeId, Edge[]>();
  const add = (edge: Edge) => {
    for (const node of [edge.a, edge.b]) {
      const here = edgesAt.get(node);
      if (here) here.push(edge);
      else edgesAt.set(node, [edge]);
    }
  };
  for (const one of wiring.contacts) add({ a: one.a, b: one.b, expression: contactOf(one) });
  for (const one of wiring.conductors) add({ a: one.near, b: one.far, expression: conductorOf(one) });
  for (const one of wiring.resistors) add({ a: one.a, b: one.b, expression: resistorOf(one.ohms) });
  for (const one of wiring.links) add({ a: one.a, b: one.b, expression: THROUGH });
  const nearOf = new Map(wiring.conductors.map(({ id, near }) => [id, near]));
  const made = { edgesAt, nearOf };
  networks.set(wiring, made);
  return made;
}

/**
 * What hangs together with one of the two without going through the other. Both sides are walked in step, and the one
 * that ends first is taken: a common has all loops behind it, an input's terminal but its own.
 */
function between({ edgesAt }: Network, from: NodeId, to: NodeId): readonly Edge[] {
  const walks = [walk(edgesAt, from, to), walk(edgesAt, to, from)];
  for (;;)
    for (const one of walks) {
      const { done, value } = one.next();
      if (done) return value;
    }
}

function* walk(
  edgesAt: Network['edgesAt'],
  start: NodeId,
  stop: NodeId,
): Generator<undefined, readonly Edge[]> {
  const seen = new Set([start]);
  const found = new Set<Edge>();
  for (const node of seen) {
    if (node === stop) continue;
    for (const edge of edgesAt.get(node) ?? []) {
      found.add(edge);
      seen.add(edge.a === node ? edge.b : edge.a);
    }
    yield;
  }
  return [...found];
}
