import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { exactly } from '../../source/electrical/interval.ts';
import { type ContactState, type ContactStates, evaluateLoop } from '../../source/electrical/loop.ts';
import { inputVolts } from '../../source/electrical/sensing.ts';
import { type SupplyBranch, solveSupplyTree } from '../../source/electrical/supply.ts';
import { report } from '../scale.ts';
import { between, betweenMagnitudes, SEED } from './draw.ts';
import { LoopNetlist, Ngspice, treeNetlist } from './ngspice.ts';
import { build, partsOf, randomLoop } from './random-loop.ts';
import { randomTree } from './random-tree.ts';

// The outside here is ngspice 45.2 as WebAssembly (eecircuit-engine): a solver of its own, by nodal analysis.

const AGREEMENT = 1e-6;
let ngspice: Ngspice;
beforeAll(async () => {
  ngspice = await Ngspice.start();
});

const apart = (ours: number, theirs: number) =>
  ours === theirs ? 0 : Math.abs(ours - theirs) / Math.max(Math.abs(theirs), 1e-9);

/** Every way the contacts of up to three detectors can stand. */
function allStates(names: readonly string[]): ContactStates[] {
  return names.reduce<ContactStates[]>(
    (before, name) =>
      before.flatMap((states) =>
        (['rest', 'active', 'unpowered'] as ContactState[]).map((state) => ({ ...states, [name]: state })),
      ),
    [{}],
  );
}

test('300 random loops of all styles, in every state of their contacts, read as ngspice finds them', async () => {
  const loops = fc.sample(randomLoop(), { numRuns: 300, seed: SEED });
  const styles = new Map<string, number>();
  let worst = 0;
  let compared = 0;
  for (const loop of loops) {
    const expression = build(loop, partsOf('true'));
    const states = allStates(loop.detectors.map(({ name }) => name));
    const netlists = states.map((one, at) => new LoopNetlist(`s${at}`, expression, one));
    const solved = await ngspice.solve(netlists.flatMap(({ elements }) => elements));
    netlists.forEach((netlist, at) => {
      const difference = apart(evaluateLoop(expression, states[at]!).nominal, netlist.ohms(solved));
      worst = Math.max(worst, difference);
      compared += 1;
    });
    styles.set(loop.style, (styles.get(loop.style) ?? 0) + 1);
  }
  report(`Loops beside ngspice (seed ${SEED})`, [
    { loops: loops.length, readings: compared, 'worst relative difference': worst.toExponential(1) },
  ]);
  expect([...styles.keys()].sort()).toEqual([
    'across',
    'bridged',
    'mixed',
    'plain',
    'series',
    'two-resistor',
  ]);
  expect(worst).toBeLessThan(AGREEMENT);
});

test('200 random supply trees give the volts that ngspice finds at every load', async () => {
  const trees = fc.sample(randomTree(), { numRuns: 200, seed: SEED });
  let worst = 0;
  let loads = 0;
  for (const { sourceVolts, branches } of trees) {
    const volts = solveSupplyTree({ source: exactly(sourceVolts), branches });
    const solved = await ngspice.solve(treeNetlist(sourceVolts, branches));
    for (const [id, { nominal }] of volts) {
      worst = Math.max(worst, apart(nominal, solved.get(`v(n_b${id.slice(1)})`) ?? Number.NaN));
      loads += 1;
    }
  }
  const depthOf = (branch: SupplyBranch): number => 1 + Math.max(0, ...branch.branches.map(depthOf));
  const deepest = Math.max(...trees.flatMap(({ branches }) => branches.map(depthOf)));
  report(`Supply trees beside ngspice (seed ${SEED})`, [
    { trees: trees.length, loads, deepest, 'worst relative difference': worst.toExponential(1) },
  ]);
  expect(deepest).toBe(8);
  expect(worst).toBeLessThan(AGREEMENT);
});

test('300 random dividers, and those of the published table, give the volts that ngspice finds', async () => {
  // 12 V over 2.2 kΩ, from the loop table: what stands across the input for 0, 1 k, 2 k, 2.2 k and 4.4 kΩ.
  const published = [0, 1000, 2000, 2200, 2205, 4400].map((ohms) => ({
    ohms,
    pullUpOhms: 2200,
    referenceVolts: 12,
  }));
  expect(published.map(({ ohms, ...sensing }) => inputVolts(ohms, sensing).toFixed(4))).toEqual([
    '0.0000',
    '3.7500',
    '5.7143',
    '6.0000',
    '6.0068',
    '8.0000',
  ]);
  const random = fc.sample(
    fc.record({
      ohms: betweenMagnitudes(0.1, 1e7),
      pullUpOhms: betweenMagnitudes(470, 100_000),
      referenceVolts: between(1.8, 15),
    }),
    { numRuns: 300, seed: SEED },
  );
  const dividers = [...published.slice(1), ...random];
  const solved = await ngspice.solve(
    dividers.flatMap(({ ohms, pullUpOhms, referenceVolts }, at) => [
      `v${at} ref${at} 0 ${referenceVolts}`,
      `rp${at} ref${at} in${at} ${pullUpOhms}`,
      `rl${at} in${at} 0 ${ohms}`,
    ]),
  );
  const differences = dividers.map(({ ohms, ...sensing }, at) =>
    apart(inputVolts(ohms, sensing), solved.get(`v(in${at})`) ?? Number.NaN),
  );
  expect(Math.max(...differences)).toBeLessThan(AGREEMENT);
});
