/** What conducts between two places; 0 Ω makes them one, Infinity is a break. */
export type Branch = { readonly a: string; readonly b: string; readonly ohms: number };

/** A reference that reaches a place through a resistance: the pull-up of an input. */
export type Reference = { readonly node: string; readonly volts: number; readonly ohms: number };

/**
 * Volts against `ground` at every place that something holds there, by elimination: each place in turn is taken
 * out and what it joined is joined through it (star to mesh), those with the fewest neighbours first. Only sums and
 * quotients of positive figures occur, so that nothing cancels.
 *
 * @example nodeVolts([{a: 'in', b: 'c', ohms: 2200}], [{node: 'in', volts: 12, ohms: 2200}], 'c').get('in') // => 6
 */
export function nodeVolts(
  branches: readonly Branch[],
  references: readonly Reference[],
  ground: string,
): Map<string, number> {
  const same = mergedNodes(branches);
  const zero = same(ground);
  const nodes = new Map<string, Place>();
  const at = (node: string): Place => {
    const place = nodes.get(node) ?? { beside: new Map(), toZero: 0, amps: 0 };
    nodes.set(node, place);
    return place;
  };
  for (const { a, b, ohms } of branches) {
    const [from, to] = [same(a), same(b)];
    if (from === to || ohms === Number.POSITIVE_INFINITY) continue;
    for (const [one, other] of [
      [from, to],
      [to, from],
    ] as const)
      if (one !== zero) join(at(one), other, 1 / ohms);
  }
  for (const { node, volts, ohms } of references) {
    if (same(node) === zero) continue;
    const place = at(same(node));
    place.toZero += 1 / ohms;
    place.amps += volts / ohms;
  }
  const volts = solve(nodes);
  const all = new Set([
    ground,
    ...branches.flatMap(({ a, b }) => [a, b]),
    ...references.map(({ node }) => node),
  ]);
  return new Map(
    [...all].flatMap((node) => {
      const known = same(node) === zero ? 0 : volts.get(same(node));
      return known === undefined ? [] : [[node, known] as const];
    }),
  );

  function join(place: Place, other: string, siemens: number): void {
    if (other === zero) place.toZero += siemens;
    else place.beside.set(other, (place.beside.get(other) ?? 0) + siemens);
  }
}

/** Siemens to each neighbour and to ground, and the amps that references send in. */
type Place = { readonly beside: Map<string, number>; toZero: number; amps: number };

function solve(nodes: Map<string, Place>): Map<string, number> {
  const taken: { readonly node: string; readonly place: Place; readonly all: number }[] = [];
  while (nodes.size > 0) {
    let node = '';
    let fewest = Number.POSITIVE_INFINITY;
    for (const [candidate, { beside }] of nodes)
      if (beside.size < fewest) {
        node = candidate;
        fewest = beside.size;
      }
    const place = nodes.get(node)!;
    nodes.delete(node);
    let all = place.toZero;
    for (const siemens of place.beside.values()) all += siemens;
    taken.push({ node, place, all });
    // Nothing holds what hangs in the air.
    if (all === 0) continue;
    for (const [one, siemens] of place.beside) {
      const near = nodes.get(one)!;
      const share = siemens / all;
      near.beside.delete(node);
      near.toZero += share * place.toZero;
      near.amps += share * place.amps;
      for (const [other, more] of place.beside)
        if (other !== one) near.beside.set(other, (near.beside.get(other) ?? 0) + share * more);
    }
  }
  const volts = new Map<string, number>();
  for (const { node, place, all } of taken.reverse()) {
    let amps = place.amps;
    let isHeld = place.toZero > 0;
    for (const [other, siemens] of place.beside) {
      if (!volts.has(other)) continue;
      amps += siemens * volts.get(other)!;
      isHeld = true;
    }
    if (isHeld) volts.set(node, amps / all);
  }
  return volts;
}

/** The name of the place that each node is one with, joined by 0 Ω. */
function mergedNodes(branches: readonly Branch[]): (node: string) => string {
  const head = new Map<string, string>();
  const headOf = (node: string): string => {
    let top = node;
    while (head.has(top)) top = head.get(top)!;
    return top;
  };
  for (const { a, b, ohms } of branches) {
    const [from, to] = [headOf(a), headOf(b)];
    if (ohms === 0 && from !== to) head.set(from, to);
  }
  return headOf;
}
