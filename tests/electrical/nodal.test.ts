import { describe, expect, test } from 'vitest';
import { type Branch, nodeVolts, type Reference } from '../../source/electrical/nodal.ts';
import { report, scale } from '../scale.ts';
import { Ngspice } from './ngspice.ts';

/** A small generator of numbers that is the same everywhere: mulberry32 (public domain, Tommy Ettinger). */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Inputs with their loops on a return that branches: a tree of cores, and here and there a bridge across. */
function drawNetwork(seed: number): { branches: Branch[]; references: Reference[] } {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const branches: Branch[] = [{ a: 'zero', b: 'r0', ohms: 0.5 + 20 * next() }];
  const cores = 1 + upTo(5);
  for (let core = 1; core < cores; core++)
    branches.push({ a: `r${upTo(core)}`, b: `r${core}`, ohms: next() < 0.1 ? 0 : 0.2 + 15 * next() });
  const references: Reference[] = [];
  for (let input = 0, inputs = 1 + upTo(12); input < inputs; input++) {
    const loops = 1 + upTo(3);
    for (let loop = 0; loop < loops; loop++) {
      const ohms = next() < 0.25 ? Number.POSITIVE_INFINITY : 50 * next() * next();
      branches.push({ a: `i${input}`, b: `d${input}.${loop}`, ohms: 0.1 + 10 * next() });
      branches.push({ a: `d${input}.${loop}`, b: `r${upTo(cores)}`, ohms });
    }
    references.push({ node: `i${input}`, volts: 3.3 + 9 * next(), ohms: 500 + 9500 * next() });
  }
  return { branches, references };
}

describe('volts of inputs on shared returns, against ngspice', async () => {
  const ngspice = await Ngspice.start();
  const NETWORKS = scale(1000, 0.1);

  test(`${NETWORKS} networks: every input agrees to 1e-9 of its reference (seeds from 1)`, async () => {
    let worst = 0;
    let compared = 0;
    for (let seed = 1; seed <= NETWORKS; seed++) {
      const { branches, references } = drawNetwork(seed);
      const ours = nodeVolts(branches, references, 'zero');
      const name = (node: string) => (node === 'zero' ? '0' : `n_${node.replace('.', '_')}`);
      const elements = branches
        .filter(({ ohms }) => ohms < Number.POSITIVE_INFINITY)
        // Where two places are one, ngspice is given a source of no volts.
        .map(({ a, b, ohms }, at) =>
          ohms === 0 ? `v${at} ${name(a)} ${name(b)} 0` : `r${at} ${name(a)} ${name(b)} ${ohms}`,
        );
      references.forEach(({ node, volts, ohms }, at) => {
        elements.push(`vref${at} p${at} 0 ${volts}`, `rup${at} p${at} ${name(node)} ${ohms}`);
      });
      const solved = await ngspice.solve(elements);
      for (const { node, volts } of references) {
        const off = Math.abs(ours.get(node)! - solved.get(`v(${name(node)})`)!) / volts;
        expect(off, `seed ${seed} ${node}`).toBeLessThan(1e-9);
        worst = Math.max(worst, off);
        compared += 1;
      }
    }
    report('Inputs on shared returns against ngspice', [{ networks: NETWORKS, compared, worst }]);
  }, 600_000);
});

test('a divider stands at half its reference, and what nothing holds has no volts', () => {
  const volts = nodeVolts(
    [
      { a: 'in', b: 'zero', ohms: 2200 },
      { a: 'x', b: 'y', ohms: 10 },
    ],
    [{ node: 'in', volts: 12, ohms: 2200 }],
    'zero',
  );
  // By hand: 12 V over two of 2.2 k.
  expect(volts.get('in')).toBeCloseTo(6, 12);
  expect([volts.get('zero'), volts.has('x'), volts.has('y')]).toEqual([0, false, false]);
});
