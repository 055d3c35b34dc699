import { identifyLoop } from '../../source/electrical/identify.ts';
import { exactly } from '../../source/electrical/interval.ts';
import { type Expression, evaluateLoop } from '../../source/electrical/loop.ts';
import { type SupplyBranch, solveSupplyTree } from '../../source/electrical/supply.ts';
import { LoopNetlist, Ngspice, treeNetlist } from '../electrical/ngspice.ts';
import type { Bench } from './bench.ts';

const ngspice = await Ngspice.start();

const inRow = (...of: Expression[]): Expression => ({ kind: 'series', of });
const beside = (...of: Expression[]): Expression => ({ kind: 'parallel', of });
const core = (id: string): Expression => ({ kind: 'cable', id, ohms: { min: 0.7, nominal: 1, max: 1.4 } });
const resistor = (ohms: number): Expression => ({ kind: 'resistor', ohms, tolerance: 0.05 });
const door = (detector: string): Expression => ({
  kind: 'contact',
  detector,
  sense: 'normally-closed',
  closed: { min: 0, nominal: 0.1, max: 2 },
  unpowered: null,
});

/** Four doors on two-resistor wiring: as many parts as a large zone has. */
const loop = inRow(
  resistor(2200),
  ...['a', 'b', 'c', 'd'].map((name) => inRow(core(name), beside(door(name), resistor(4700)), core(name))),
);
const worked = { b: 'active' } as const;
const netlist = new LoopNetlist('loop', loop, worked);

const readings = { restOhms: 2228, activeOhms: [6940, 6890, 7010, 6920] };
const readingNetlists = [{}, { a: 'active' }, { b: 'active' }, { c: 'active' }, { d: 'active' }].map(
  (states, at) => new LoopNetlist(`read${at}`, loop, states as Record<string, 'active'>),
);

/** 500 devices: 50 runs, each a chain of ten. */
const tree: readonly SupplyBranch[] = Array.from({ length: 50 }, (_, run) =>
  Array.from({ length: 10 }, (_, at) => at).reduceRight<readonly SupplyBranch[]>(
    (beyond, at) => [
      {
        id: `${run}x${at}`,
        loopOhms: exactly(0.3 + at / 10),
        loads: [{ id: `${run}x${at}`, amps: exactly(0.002) }],
        branches: beyond,
      },
    ],
    [],
  ),
).flat();
const treeElements = treeNetlist(13.7, tree);

export const benches: readonly Bench[] = [
  {
    name: 'evaluate one loop of 17 parts',
    target: { milliseconds: 0.02, ratio: 1 },
    subject: { name: 'evaluateLoop', run: () => evaluateLoop(loop, worked) },
    baseline: { name: 'ngspice, the same loop', run: () => ngspice.solve(netlist.elements) },
  },
  {
    name: 'identify a loop of four detectors',
    target: { milliseconds: 2, ratio: 1 },
    subject: { name: 'identifyLoop', run: () => identifyLoop(readings) },
    baseline: {
      name: 'ngspice, its five readings',
      run: () => ngspice.solve(readingNetlists.flatMap(({ elements }) => elements)),
    },
  },
  {
    name: 'supply tree of 500 devices',
    target: { milliseconds: 1, ratio: 1 },
    subject: {
      name: 'solveSupplyTree',
      run: () => solveSupplyTree({ source: exactly(13.7), branches: tree }),
    },
    baseline: { name: 'ngspice, the same tree', run: () => ngspice.solve(treeElements) },
  },
];
