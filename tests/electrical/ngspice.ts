import { Simulation } from 'eecircuit-engine';
import type { ContactStates, Expression } from '../../source/electrical/loop.ts';
import type { SupplyBranch } from '../../source/electrical/supply.ts';

/** ngspice (as WebAssembly): the circuit solver these tests hold the room against. One for all of a file. */
export class Ngspice {
  readonly #engine: Simulation;

  private constructor(engine: Simulation) {
    this.#engine = engine;
  }

  static async start(): Promise<Ngspice> {
    const engine = new Simulation();
    await engine.start();
    return new Ngspice(engine);
  }

  /** Operating point of a netlist: volts of every node, amps through every source, by ngspice's names. */
  async solve(elements: readonly string[]): Promise<Map<string, number>> {
    // The first line of a netlist is its title.
    this.#engine.setNetList(['* circuit', ...elements, '.op', '.end'].join('\n'));
    const result = await this.#engine.runSim();
    return new Map(result.data.map(({ name, values }) => [name.toLowerCase(), Number(values[0])]));
  }
}

/** Stands for a break: nodes behind it need a path for the solver, and 1e15 Ω is none for a meter. */
const BREAK_OHMS = 1e15;

/** Netlist of a loop between two nodes, every part at its nominal figure. */
export class LoopNetlist {
  readonly elements: string[] = [];
  #count = 0;

  constructor(
    readonly name: string,
    expression: Expression,
    states: ContactStates,
  ) {
    this.#add(expression, states, `${name}_top`, '0');
    this.elements.push(`v${name} ${name}_top 0 1`);
  }

  /** What ngspice finds between the ends: 1 V over the current it drives. */
  ohms(solved: ReadonlyMap<string, number>): number {
    const amps = solved.get(`i(v${this.name})`);
    if (amps === undefined) throw new Error(`ngspice gave no current for ${this.name}`);
    const ohms = -1 / amps;
    return ohms > BREAK_OHMS / 1e4 ? Number.POSITIVE_INFINITY : ohms;
  }

  #add(part: Expression, states: ContactStates, from: string, to: string): void {
    if (part.kind === 'parallel') {
      for (const one of part.of) this.#add(one, states, from, to);
      if (part.of.length === 0) this.#resistor(from, to, BREAK_OHMS);
      return;
    }
    if (part.kind === 'series') {
      const nodes = part.of.map((_, at) => (at === part.of.length - 1 ? to : this.#node()));
      part.of.forEach((one, at) => {
        this.#add(one, states, at === 0 ? from : nodes[at - 1]!, nodes[at]!);
      });
      if (part.of.length === 0) this.elements.push(`vlink${this.name}${this.#count++} ${from} ${to} 0`);
      return;
    }
    this.#resistor(from, to, leafOhms(part, states));
  }

  #node(): string {
    return `${this.name}_${this.#count++}`;
  }

  #resistor(from: string, to: string, ohms: number): void {
    this.elements.push(`r${this.name}_${this.#count++} ${from} ${to} ${ohms}`);
  }
}

function leafOhms(leaf: Exclude<Expression, { kind: 'series' | 'parallel' }>, states: ContactStates): number {
  switch (leaf.kind) {
    case 'open':
      return BREAK_OHMS;
    case 'resistor':
      return leaf.ohms;
    case 'cable':
      return leaf.ohms.nominal;
    case 'contact':
      return stands(leaf, states[leaf.detector]) ? leaf.closed.nominal : BREAK_OHMS;
  }
}

/** Whether a contact is closed, from the loop table and not from the code under test. */
function stands(contact: Extract<Expression, { kind: 'contact' }>, state = 'rest'): boolean {
  const table: Record<string, Record<string, boolean>> = {
    'normally-closed': { rest: true, active: false, unpowered: contact.unpowered !== 'open' },
    'normally-open': { rest: false, active: true, unpowered: contact.unpowered === 'closed' },
  };
  return table[contact.sense]?.[state] ?? false;
}

/** Netlist of a supply tree; the volts of a load stand at the node of its branch. */
export function treeNetlist(sourceVolts: number, branches: readonly SupplyBranch[]): string[] {
  const elements = [`vsource root 0 ${sourceVolts}`];
  const add = (branch: SupplyBranch, from: string) => {
    const node = `n_${branch.id}`;
    elements.push(`r_${branch.id} ${from} ${node} ${branch.loopOhms.nominal}`);
    for (const load of branch.loads) elements.push(`i_${load.id} ${node} 0 ${load.amps.nominal}`);
    for (const next of branch.branches) add(next, node);
  };
  for (const branch of branches) add(branch, 'root');
  return elements;
}
