import { expect, test } from 'vitest';
import { seededRandom } from '../../source/rehearsal/building/random.ts';
import { type Element, solveCircuit } from '../../source/rehearsal/building/solve.ts';
import { spiceOhms, spiceVolts } from './spice.ts';

test('ngspice solves 20 random networks as the solver does (seed 5)', async () => {
  const random = seededRandom(5);
  for (let run = 0; run < 20; run++) {
    const nodes = Array.from({ length: 4 + Math.floor(random.next() * 8) }, (_, index) => `k${index}`);
    const elements: Element[] = nodes.slice(1).map((node, index) => ({
      kind: 'resistance',
      a: node,
      b: nodes[index]!,
      ohms: 10 ** random.between(-1, 5),
    }));
    for (let more = 0; more < 4; more++) {
      const [a, b] = random.shuffled(nodes) as [string, string];
      const [c, d] = random.shuffled(nodes) as [string, string];
      elements.push({
        kind: 'voltage',
        plus: a,
        minus: b,
        volts: random.between(-24, 24),
        innerOhms: random.between(0.1, 10),
      });
      elements.push({ kind: 'current', from: c, to: d, amps: random.between(0, 0.1) });
    }
    const [a, b] = random.shuffled(nodes) as [string, string];
    const solved = solveCircuit(elements);
    const volts = await spiceVolts(elements, a, b);
    expect(Math.abs(solved.volts(a, b) - volts)).toBeLessThan(1e-6 * Math.max(1, Math.abs(volts)));
    const ohms = await spiceOhms(elements, a, b);
    expect(Math.abs(solved.ohms(a, b) / ohms - 1)).toBeLessThan(1e-6);
  }
});
