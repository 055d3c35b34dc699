import type { Expression } from '../electrical/loop.ts';
import type { NodeId } from './wiring.ts';

/** Something that conducts between two nodes: a conductor, a contact, a resistor. */
export type Edge = { readonly a: NodeId; readonly b: NodeId; readonly expression: Expression };

const OPEN: Expression = { kind: 'open' };

/**
 * What a meter between two nodes sees of a network, as one expression: dead ends carry nothing, what lies
 * side by side is parallel, what follows is in series. Alarm loops always come down to that; a network that
 * does not (bridged in the field by mistake) is read along its shortest way, which bounds it from above.
 */
export function reduceBetween(edges: readonly Edge[], from: NodeId, to: NodeId): Expression {
  if (from === to) return { kind: 'series', of: [] };
  const network = new Network(reachable(edges, from));
  network.settle(from, to);
  const left = network.edges();
  if (left.length <= 1) return left[0]?.expression ?? OPEN;
  return shortestWay(left, from, to) ?? OPEN;
}

/** Edges by their ends, merged as they come. */
class Network {
  readonly #at = new Map<NodeId, Set<Edge>>();

  constructor(edges: readonly Edge[]) {
    for (const edge of edges) this.#add(edge);
  }

  edges(): Edge[] {
    return [...new Set([...this.#at.values()].flatMap((edges) => [...edges]))];
  }

  /** Takes dead ends off and merges what follows one another until nothing changes. */
  settle(from: NodeId, to: NodeId): void {
    const waiting = [...this.#at.keys()];
    for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
      if (node === from || node === to) continue;
      const here = [...this.#edgesAt(node)];
      if (here.length === 0 || here.length > 2) continue;
      const ends = here.map((edge) => otherEnd(edge, node));
      for (const edge of here) this.#remove(edge);
      if (here.length === 2) {
        const [first, second] = here as [Edge, Edge];
        this.#add({ a: ends[0]!, b: ends[1]!, expression: series(first.expression, second.expression) });
      }
      waiting.push(...ends);
    }
  }

  #add(edge: Edge): void {
    if (edge.a === edge.b) return;
    const beside = [...this.#edgesAt(edge.a)].find((other) => otherEnd(other, edge.a) === edge.b);
    if (beside) this.#remove(beside);
    const merged = beside ? { ...edge, expression: parallel(beside.expression, edge.expression) } : edge;
    this.#edgesAt(edge.a).add(merged);
    this.#edgesAt(edge.b).add(merged);
  }

  #remove(edge: Edge): void {
    this.#edgesAt(edge.a).delete(edge);
    this.#edgesAt(edge.b).delete(edge);
  }

  #edgesAt(node: NodeId): Set<Edge> {
    let edges = this.#at.get(node);
    if (!edges) {
      edges = new Set();
      this.#at.set(node, edges);
    }
    return edges;
  }
}

function otherEnd(edge: Edge, node: NodeId): NodeId {
  return edge.a === node ? edge.b : edge.a;
}

function series(a: Expression, b: Expression): Expression {
  return { kind: 'series', of: [...partsOf(a, 'series'), ...partsOf(b, 'series')] };
}

function parallel(a: Expression, b: Expression): Expression {
  return { kind: 'parallel', of: [...partsOf(a, 'parallel'), ...partsOf(b, 'parallel')] };
}

function partsOf(expression: Expression, kind: 'series' | 'parallel'): readonly Expression[] {
  return expression.kind === kind ? expression.of : [expression];
}

/** The edges that hang together with a node. */
function reachable(edges: readonly Edge[], from: NodeId): Edge[] {
  const at = new Map<NodeId, Edge[]>();
  for (const edge of edges)
    for (const node of [edge.a, edge.b]) {
      const here = at.get(node);
      if (here) here.push(edge);
      else at.set(node, [edge]);
    }
  const seen = new Set([from]);
  const found = new Set<Edge>();
  for (const node of seen)
    for (const edge of at.get(node) ?? []) {
      found.add(edge);
      seen.add(otherEnd(edge, node));
    }
  return [...found];
}

function shortestWay(edges: readonly Edge[], from: NodeId, to: NodeId): Expression | null {
  const cameBy = new Map<NodeId, Edge | null>([[from, null]]);
  for (const node of cameBy.keys())
    for (const edge of edges) {
      if (edge.a !== node && edge.b !== node) continue;
      const next = otherEnd(edge, node);
      if (!cameBy.has(next)) cameBy.set(next, edge);
    }
  if (!cameBy.has(to)) return null;
  const way: Expression[] = [];
  for (let node = to; node !== from; ) {
    const edge = cameBy.get(node)!;
    way.unshift(...partsOf(edge.expression, 'series'));
    node = otherEnd(edge, node);
  }
  return { kind: 'series', of: way };
}
