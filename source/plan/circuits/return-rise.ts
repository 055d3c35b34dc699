import { type ContactStates, type Expression, evaluateLoop } from '../../electrical/loop.ts';
import { type Branch, nodeVolts } from '../../electrical/nodal.ts';
import { returnRise } from '../../electrical/sensing.ts';
import type { Board } from '../../site/board.ts';
import { edgesAt } from '../../wiring/read-between.ts';
import type { Edge } from '../../wiring/reduce.ts';
import type { NodeId, Wiring } from '../../wiring/wiring.ts';
import { type Contact, closedStates, closedWays, contactsOf } from '../loops/contacts.ts';
import type { Circuit } from '../plan.ts';
import type { SettledCircuit } from './settle.ts';

/** All commons of a board are its 0 V. */
const ZERO = 'zero';

/**
 * What the currents of other inputs lift the return of a circuit by at most, in each way of its being closed: by the
 * detector that is worked, or `rest`. Empty where it shares none. Worst is its own loop as long as it may be and
 * every other as short, with every other contact closed and all pull-ups at their least.
 */
export function computeReturnRises(
  wiring: Wiring,
  board: Board,
  circuit: Pick<SettledCircuit, 'terminal' | 'contact'>,
  expression: Expression,
  contacts: readonly Contact[],
): Circuit['returnRiseVolts'] {
  const terminal = `${board.id}:${circuit.terminal}`;
  const edges = edgesFrom(wiring, board, terminal);
  const nodes = new Set(edges.flatMap(({ a, b }) => [a, b]));
  const terminals = board.inputs
    .map((input) => `${board.id}:${input.terminal}`)
    .filter((one) => nodes.has(one));
  if (terminals.length < 2) return {};
  const own = ownOf(edges, terminal, contacts);
  const relief = reliefOf(edges, own, terminals);
  const pullUpOhms = board.sensing.pullUpOhms * (1 - board.sensing.pullUpTolerance);
  const { referenceVolts } = board.sensing;
  const references = terminals.map((node) => ({ node, volts: referenceVolts, ohms: pullUpOhms }));
  const rises = closedWays(contacts, circuit.contact).map((states) => {
    const loopOhms = evaluateLoop(expression, states).max;
    const way = Object.keys(states)[0] ?? 'rest';
    // What may be open at rest draws nothing that anybody can reckon with.
    if (loopOhms === Number.POSITIVE_INFINITY) return [way, 0] as const;
    const branches = edges.map(({ a, b, expression: part }, at): Branch => {
      const edge = edges[at]!;
      if (own.has(edge)) return { a, b, ohms: evaluateLoop(part, states).max };
      if (relief.has(edge)) return { a, b, ohms: Number.POSITIVE_INFINITY };
      return { a, b, ohms: evaluateLoop(part, closedStates(contactsOf(part))).min };
    });
    const volts = nodeVolts(branches, references, ZERO).get(terminal) ?? 0;
    return [way, returnRise(volts, loopOhms, { pullUpOhms, referenceVolts })] as const;
  });
  return Object.fromEntries(rises.filter(([, volts]) => volts > 0));
}

/** What a return is lifted by while the loop stands so; at rest where no contact that counts is worked. */
export function riseOf({ returnRiseVolts }: Pick<Circuit, 'returnRiseVolts'>, states: ContactStates): number {
  const worked = Object.keys(states).filter((id) => states[id] === 'active' && id in returnRiseVolts);
  const rises = (worked.length > 0 ? worked : ['rest']).map((id) => returnRiseVolts[id] ?? 0);
  return Math.max(...rises);
}

/** What hangs together with a terminal, its board's commons taken as one place that nothing goes past. */
function edgesFrom(wiring: Wiring, board: Board, terminal: NodeId): Edge[] {
  const commons = new Set(board.inputs.map(({ common }) => `${board.id}:${common}`));
  const zeroed = (node: NodeId) => (commons.has(node) ? ZERO : node);
  const seen = new Set([terminal]);
  const found = new Map<Edge, Edge>();
  for (const node of seen)
    for (const edge of edgesAt(wiring, node)) {
      found.set(edge, { ...edge, a: zeroed(edge.a), b: zeroed(edge.b) });
      for (const end of [edge.a, edge.b]) if (!commons.has(end)) seen.add(end);
    }
  return [...found.values()];
}

/** What of the network a loop goes through: without the contacts of the others all that is theirs is a dead end. */
function ownOf(edges: readonly Edge[], terminal: NodeId, contacts: readonly Contact[]): Set<Edge> {
  const mine = new Set(contacts.map(({ detector }) => detector));
  const left = new Set(
    edges.filter(({ expression }) => expression.kind !== 'contact' || mine.has(expression.detector)),
  );
  const at = new Map<NodeId, Set<Edge>>();
  for (const edge of left)
    for (const node of [edge.a, edge.b]) at.set(node, (at.get(node) ?? new Set()).add(edge));
  const waiting = [...at.keys()];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    const here = at.get(node)!;
    const [edge] = here;
    if (node === terminal || node === ZERO || here.size !== 1 || !edge) continue;
    left.delete(edge);
    for (const end of [edge.a, edge.b]) at.get(end)!.delete(edge);
    waiting.push(edge.a === node ? edge.b : edge.a);
  }
  return left;
}

/**
 * Contacts of other loops that lead back by a way of their own: closed, they take current off the shared return, so
 * the worst is that they are open.
 */
function reliefOf(edges: readonly Edge[], own: ReadonlySet<Edge>, terminals: readonly NodeId[]): Set<Edge> {
  const shared = new Set([...own].flatMap(({ a, b }) => [a, b]).filter((node) => node !== ZERO));
  const ends = new Set([ZERO, ...terminals, ...shared]);
  const at = new Map<NodeId, Edge[]>();
  for (const edge of edges)
    if (!own.has(edge)) for (const node of [edge.a, edge.b]) at.set(node, [...(at.get(node) ?? []), edge]);
  const contacts = edges.filter((edge) => edge.expression.kind === 'contact' && !own.has(edge));
  return new Set(
    contacts.filter((contact) => {
      const reached = new Set([...endsFrom(contact.a, contact), ...endsFrom(contact.b, contact)]);
      return reached.has(ZERO) && ![...reached].some((node) => shared.has(node));
    }),
  );

  /** Where the way from one side of a contact ends: at 0 V, at an input, or at the shared return. */
  function endsFrom(start: NodeId, without: Edge): NodeId[] {
    const seen = new Set([start]);
    const found: NodeId[] = [];
    for (const node of seen) {
      if (ends.has(node)) {
        found.push(node);
        continue;
      }
      for (const edge of at.get(node) ?? [])
        if (edge !== without) seen.add(edge.a === node ? edge.b : edge.a);
    }
    return found;
  }
}
