import { Simulation } from 'eecircuit-engine';
import type { Element } from '../../source/rehearsal/building/solve.ts';

let engine: Promise<Simulation> | null = null;

async function started(): Promise<Simulation> {
  const simulation = new Simulation();
  await simulation.start();
  return simulation;
}

/**
 * Volts from `minus` to `plus` as ngspice finds them, the independent solver. Parts that nothing joins are
 * held to the reference by a resistance far above any other.
 */
export async function spiceVolts(elements: readonly Element[], plus: string, minus: string): Promise<number> {
  engine ??= started();
  const simulation = await engine;
  const names = new Map<string, string>([[minus, '0']]);
  const name = (node: string): string => {
    if (!names.has(node)) names.set(node, `n${names.size}`);
    return names.get(node)!;
  };
  const lines = elements.flatMap((element, index) => spiceLines(element, index, name));
  const probe = name(plus);
  const floating = [...names.values()]
    .filter((node) => node !== '0')
    .map((node) => `rf${node} ${node} 0 1e13`);
  const netlist = ['* a moment', ...lines, ...floating, `rprobe ${probe} 0 1e13`, '.op', '.end'].join('\n');
  simulation.setNetList(netlist);
  const result = await simulation.runSim();
  const at = result.data.find((one) => one.name.toLowerCase() === `v(${probe})`);
  const value = at?.values[0];
  if (typeof value !== 'number') throw new Error(`ngspice gave no voltage for ${plus}`);
  return value;
}

/** Ohms between two nodes: the voltage that one ampere makes with every source at rest. */
export function spiceOhms(elements: readonly Element[], a: string, b: string): Promise<number> {
  const atRest = elements.flatMap((element): Element[] => {
    if (element.kind === 'current') return [];
    if (element.kind === 'resistance') return [element];
    return [{ kind: 'resistance', a: element.plus, b: element.minus, ohms: element.innerOhms }];
  });
  return spiceVolts([...atRest, { kind: 'current', from: b, to: a, amps: 1 }], a, b);
}

function spiceLines(element: Element, index: number, name: (node: string) => string): string[] {
  switch (element.kind) {
    case 'resistance':
      return [`r${index} ${name(element.a)} ${name(element.b)} ${element.ohms}`];
    case 'current':
      return [`i${index} ${name(element.from)} ${name(element.to)} ${element.amps}`];
    case 'voltage':
      return [
        `v${index} s${index} ${name(element.minus)} ${element.volts}`,
        `rv${index} ${name(element.plus)} s${index} ${element.innerOhms}`,
      ];
  }
}
