/**
 * One element of a circuit. Every source has an inner resistance over 0 ohms, as every real one does, so
 * that node voltages alone describe the circuit.
 */
export type Element =
  | { readonly kind: 'resistance'; readonly a: string; readonly b: string; readonly ohms: number }
  /** Current flows into the element at `from` and out of it at `to`. */
  | { readonly kind: 'current'; readonly from: string; readonly to: string; readonly amps: number }
  | {
      readonly kind: 'voltage';
      readonly plus: string;
      readonly minus: string;
      readonly volts: number;
      readonly innerOhms: number;
    };

/** A circuit that has been solved once and answers between any two of its nodes. */
export type Solved = {
  /** Volts from `minus` to `plus` with nothing connected there; 0 between parts that nothing joins. */
  readonly volts: (plus: string, minus: string) => number;
  /** Ohms seen between two nodes with every source at rest; `Infinity` between parts that nothing joins. */
  readonly ohms: (a: string, b: string) => number;
};

/**
 * Nodal analysis: in each part that hangs together one node is the reference, the conductances of the rest
 * make a symmetric positive definite matrix, and Cholesky's factors of it answer every question.
 *
 * @example solveCircuit([{ kind: 'resistance', a: 'x', b: 'y', ohms: 50 }]).ohms('x', 'y') // => 50
 */
export function solveCircuit(elements: readonly Element[]): Solved {
  const parts = partsOf(elements);
  const partOf = new Map<string, Part>();
  for (const part of parts) for (const node of part.index.keys()) partOf.set(node, part);

  const shared = (a: string, b: string): Part | null => {
    const part = partOf.get(a);
    return part !== undefined && part === partOf.get(b) ? part : null;
  };
  return {
    volts: (plus, minus) => {
      const part = shared(plus, minus);
      if (part === null || plus === minus || !part.hasSource) return 0;
      const voltages = voltagesOf(part);
      return voltageAt(part, voltages, plus) - voltageAt(part, voltages, minus);
    },
    ohms: (a, b) => {
      if (a === b) return 0;
      const part = shared(a, b);
      if (part === null) return Number.POSITIVE_INFINITY;
      const injected = new Float64Array(part.index.size - 1);
      inject(part, injected, a, 1);
      inject(part, injected, b, -1);
      const voltages = backSubstitute(factorOf(part), injected);
      return voltageAt(part, voltages, a) - voltageAt(part, voltages, b);
    },
  };
}

/** Nodes that hang together, the first of them the reference, with their elements. */
type Part = {
  readonly index: Map<string, number>;
  readonly elements: Element[];
  hasSource: boolean;
  factor: Float64Array | null;
  voltages: Float64Array | null;
};

const endsOf = (element: Element): readonly [string, string] => {
  if (element.kind === 'resistance') return [element.a, element.b];
  if (element.kind === 'current') return [element.from, element.to];
  return [element.plus, element.minus];
};

function partsOf(elements: readonly Element[]): Part[] {
  const leader = new Map<string, string>();
  const find = (node: string): string => {
    let at = node;
    for (;;) {
      const above = leader.get(at);
      if (above === undefined || above === at) break;
      at = above;
    }
    leader.set(node, at);
    return at;
  };
  for (const element of elements) {
    const [a, b] = endsOf(element).map(find) as [string, string];
    // A current that nothing carries back joins no parts.
    if (element.kind !== 'current' && a !== b) leader.set(a, b);
  }
  const parts = new Map<string, Part>();
  for (const element of elements) {
    const [a, b] = endsOf(element);
    if (find(a) !== find(b)) continue;
    const part: Part = parts.get(find(a)) ?? {
      index: new Map(),
      elements: [],
      hasSource: false,
      factor: null,
      voltages: null,
    };
    parts.set(find(a), part);
    part.elements.push(element);
    part.hasSource ||= element.kind !== 'resistance';
    for (const node of [a, b]) if (!part.index.has(node)) part.index.set(node, part.index.size);
  }
  return [...parts.values()];
}

function inject(part: Part, into: Float64Array, node: string, amps: number): void {
  const row = part.index.get(node)! - 1;
  if (row >= 0) into[row] = into[row]! + amps;
}

function voltageAt(part: Part, voltages: Float64Array, node: string): number {
  const row = part.index.get(node)! - 1;
  return row < 0 ? 0 : voltages[row]!;
}

function voltagesOf(part: Part): Float64Array {
  if (part.voltages === null) {
    const injected = new Float64Array(part.index.size - 1);
    for (const element of part.elements) {
      if (element.kind === 'current') {
        inject(part, injected, element.from, -element.amps);
        inject(part, injected, element.to, element.amps);
      } else if (element.kind === 'voltage') {
        inject(part, injected, element.plus, element.volts / element.innerOhms);
        inject(part, injected, element.minus, -element.volts / element.innerOhms);
      }
    }
    part.voltages = backSubstitute(factorOf(part), injected);
  }
  return part.voltages;
}

/** Cholesky's lower factor, row by row, of the part's conductances. */
function factorOf(part: Part): Float64Array {
  if (part.factor !== null) return part.factor;
  const size = part.index.size - 1;
  const lower = new Float64Array(size * size);
  for (const element of part.elements) {
    if (element.kind === 'current') continue;
    const siemens = 1 / (element.kind === 'resistance' ? element.ohms : element.innerOhms);
    const [a, b] = endsOf(element).map((node) => part.index.get(node)! - 1) as [number, number];
    if (a === b) continue;
    if (a >= 0) lower[a * size + a]! += siemens;
    if (b >= 0) lower[b * size + b]! += siemens;
    if (a >= 0 && b >= 0) lower[Math.max(a, b) * size + Math.min(a, b)]! -= siemens;
  }
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = lower[row * size + column]!;
      for (let k = 0; k < column; k++) sum -= lower[row * size + k]! * lower[column * size + k]!;
      lower[row * size + column] = row === column ? Math.sqrt(sum) : sum / lower[column * size + column]!;
    }
  }
  part.factor = lower;
  return lower;
}

function backSubstitute(lower: Float64Array, injected: Float64Array): Float64Array {
  const size = injected.length;
  const solution = Float64Array.from(injected);
  for (let row = 0; row < size; row++) {
    let sum = solution[row]!;
    for (let k = 0; k < row; k++) sum -= lower[row * size + k]! * solution[k]!;
    solution[row] = sum / lower[row * size + row]!;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = solution[row]!;
    for (let k = row + 1; k < size; k++) sum -= lower[k * size + row]! * solution[k]!;
    solution[row] = sum / lower[row * size + row]!;
  }
  return solution;
}
