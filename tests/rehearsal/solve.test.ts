import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../source/rehearsal/building/random.ts';
import { type Element, solveCircuit } from '../../source/rehearsal/building/solve.ts';

const r = (a: string, b: string, ohms: number): Element => ({ kind: 'resistance', a, b, ohms });

describe('the solver', () => {
  test('adds resistances in a row and conductances side by side', () => {
    const { ohms } = solveCircuit([r('a', 'b', 100), r('b', 'c', 200), r('a', 'c', 300)]);
    expect(ohms('a', 'c')).toBeCloseTo(150, 9);
    expect(ohms('a', 'b')).toBeCloseTo((100 * 500) / 600, 9);
    expect(ohms('a', 'a')).toBe(0);
  });

  test('sees nothing between parts that nothing joins', () => {
    const { ohms, volts } = solveCircuit([r('a', 'b', 100), r('c', 'd', 100)]);
    expect(ohms('a', 'c')).toBe(Number.POSITIVE_INFINITY);
    expect(volts('a', 'c')).toBe(0);
    expect(ohms('a', 'nowhere')).toBe(Number.POSITIVE_INFINITY);
  });

  // A bridge of five resistors is no series and no parallel: the published worked example of the star-mesh
  // transform, 1 Ω all round, balances to 1 Ω (from memory, any network text).
  test('solves the bridge that no series or parallel describes', () => {
    const bridge = (middle: number) =>
      solveCircuit([
        r('a', 'x', 1),
        r('a', 'y', 1),
        r('x', 'b', 1),
        r('y', 'b', 1),
        r('x', 'y', middle),
      ]).ohms('a', 'b');
    expect(bridge(5)).toBeCloseTo(1, 12);
    const unbalanced = solveCircuit([
      r('a', 'x', 1),
      r('a', 'y', 2),
      r('x', 'b', 3),
      r('y', 'b', 1),
      r('x', 'y', 1),
    ]);
    // Delta a-x-y to star by hand: Ra = 1·2/4, Rx = 1·1/4, Ry = 2·1/4; then 0.5 + (3.25 ∥ 1.5).
    expect(unbalanced.ohms('a', 'b')).toBeCloseTo(0.5 + (3.25 * 1.5) / (3.25 + 1.5), 12);
  });

  test('a source gives its voltage through what it has inside', () => {
    const battery: Element = { kind: 'voltage', plus: 'p', minus: 'n', volts: 12, innerOhms: 2 };
    const { volts, ohms } = solveCircuit([battery, r('p', 'n', 10)]);
    expect(volts('p', 'n')).toBeCloseTo(10, 12);
    expect(ohms('p', 'n')).toBeCloseTo(20 / 12, 12);
  });

  test('a current that nothing carries back joins nothing and flows nowhere', () => {
    const { volts } = solveCircuit([
      { kind: 'current', from: 'a', to: 'z', amps: 1 },
      r('a', 'b', 10),
      r('z', 'y', 10),
    ]);
    expect(volts('a', 'b')).toBe(0);
  });

  test('what flows into every node flows out of it, in 200 random networks (seed 11)', () => {
    const random = seededRandom(11);
    for (let run = 0; run < 200; run++) {
      const nodes = Array.from({ length: 3 + Math.floor(random.next() * 12) }, (_, index) => `n${index}`);
      const elements: Element[] = nodes
        .slice(1)
        .map((node, index) => r(node, nodes[index]!, 10 ** random.between(-2, 6)));
      for (let more = 0; more < nodes.length; more++) {
        const [a, b] = random.shuffled(nodes) as [string, string];
        elements.push(
          random.next() < 0.6
            ? r(a, b, 10 ** random.between(-1, 6))
            : {
                kind: 'voltage',
                plus: a,
                minus: b,
                volts: random.between(-24, 24),
                innerOhms: random.between(0.05, 100),
              },
        );
      }
      const { volts } = solveCircuit(elements);
      for (const node of nodes) {
        let sum = 0;
        for (const element of elements) {
          if (element.kind === 'current') continue;
          const [a, b] =
            element.kind === 'resistance' ? [element.a, element.b] : [element.plus, element.minus];
          if (a !== node && b !== node) continue;
          const amps =
            element.kind === 'resistance'
              ? volts(a, b) / element.ohms
              : (volts(a, b) - element.volts) / element.innerOhms;
          sum += a === node ? amps : -amps;
        }
        // A microamp: 24 V across the smallest resistance here is some thousand amps.
        expect(Math.abs(sum)).toBeLessThan(1e-6);
      }
    }
  });
});

describe('chance', () => {
  test('one seed draws one sequence, and streams of different names differ', () => {
    const draw = (seed: number, name: string) => Array.from({ length: 5 }, seededRandom(seed, name).next);
    expect(draw(1, 'a')).toEqual(draw(1, 'a'));
    expect(draw(1, 'a')).not.toEqual(draw(1, 'b'));
    expect(draw(1, 'a')).not.toEqual(draw(2, 'a'));
  });

  test('draws evenly: 20 bins of 20,000 numbers (chi-square, 19 degrees, 99.9 % at 43.8)', () => {
    // Critical value: NIST/SEMATECH e-Handbook 1.3.6.7.4, 43.820 for 19 degrees at 0.001.
    const random = seededRandom(3);
    const bins = new Array<number>(20).fill(0);
    for (let n = 0; n < 20_000; n++) bins[Math.floor(random.next() * 20)]! += 1;
    const chi = bins.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    expect(chi).toBeLessThan(43.82);
  });
});
