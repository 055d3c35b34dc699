import { describe, expect, test } from 'vitest';
import type { Building } from '../../source/rehearsal/building/building.ts';
import { circuitOf } from '../../source/rehearsal/building/circuit.ts';
import { FAULTS } from '../../source/rehearsal/building/faults/list.ts';
import { act, type HandAct } from '../../source/rehearsal/building/hands.ts';
import { nodeOf, readOhms, readVolts } from '../../source/rehearsal/building/meter.ts';
import { type Random, seededRandom } from '../../source/rehearsal/building/random.ts';
import { type Element, solveCircuit } from '../../source/rehearsal/building/solve.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { report } from '../scale.ts';
import { demoScene } from './demo-scene.ts';
import { spiceOhms, spiceVolts } from './spice.ts';

const scene = demoScene();
const PERFECT = { gain: 0, offsetOhms: 0, offsetVolts: 0 };

/** A building somewhere in the middle of the work: a fault in it, some acts done, perhaps a contact held. */
function moment(random: Random, seed: number): Building {
  const { building } = enterBuilding(scene, seed, [random.pick(FAULTS).name]);
  const conductors = scene.wiring.conductors.filter(({ atPanel }) => atPanel);
  const inputs = scene.boards.flatMap((board) =>
    board.inputs.flatMap(({ terminal, common }) => [`${board.id}:${terminal}`, `${board.id}:${common}`]),
  );
  const acts: HandAct[] = [];
  for (const source of ['feed', 'battery:1', 'telephone']) {
    if (random.next() < 0.6) acts.push({ do: 'isolate', source });
  }
  for (const { id, near } of conductors) {
    if (random.next() < 0.5) acts.push({ do: 'lift', conductor: id, at: near });
    if (random.next() < 0.4) acts.push({ do: 'land', conductor: id, at: random.pick(inputs) });
  }
  for (const id of scene.wiring.resistors.map((one) => one.id)) {
    if (random.next() < 0.4) acts.push({ do: 'remove-resistor', resistor: id, zone: '' });
  }
  if (random.next() < 0.5) acts.push({ do: 'connect-source', source: 'adapter:b1', board: 'b1' });
  const worked = new Set(scene.survey.detectors.map(({ id }) => id).filter(() => random.next() < 0.2));
  return { ...acts.reduce(act, building), worked, meter: PERFECT };
}

describe('ngspice, the independent solver', () => {
  test('agrees with the meter on 100 random moments of the demo (seed 17)', async () => {
    const random = seededRandom(17);
    const kinds = { ohms: 0, 'open circuits': 0, 'volts dc': 0, 'volts ac': 0 };
    for (let run = 0; run < 100; run++) {
      const building = moment(random, run);
      const points = [
        ...scene.wiring.conductors.map(({ id }) => id),
        ...scene.wiring.conductors.map(({ far }) => far),
        'old:5',
        'old:6',
        'old:8',
        'earth',
        'b1:A+',
        'b1:A-',
        'b1:I1',
        'b1:C1',
      ];
      const [a, b] = random.shuffled(points) as [string, string];
      const [from, to] = [nodeOf(building, a), nodeOf(building, b)];
      if (from === to) continue;
      const dc = circuitOf(building, 'dc');
      if (dc.solved.volts(from, to) === 0) {
        const shown = readOhms(building, a, b);
        const ohms = await spiceOhms(dc.elements, from, to);
        if (Number.isFinite(shown)) {
          kinds.ohms += 1;
          expect(Math.abs(shown - ohms), `${a} to ${b}, moment ${run}`).toBeLessThan(0.06 + ohms * 1e-3);
        } else {
          kinds['open circuits'] += 1;
          expect(ohms, `${a} to ${b}, moment ${run}`).toBeGreaterThan(40e6);
        }
      }
      for (const mode of ['dc', 'ac'] as const) {
        const { elements } = circuitOf(building, mode);
        const meter: Element = { kind: 'resistance', a: from, b: to, ohms: 10e6 };
        const volts = await spiceVolts([...elements, meter], from, to);
        const shown = readVolts(building, mode, a, b);
        const expected = mode === 'ac' ? Math.abs(volts) : volts;
        if (shown !== 0) kinds[`volts ${mode}`] += 1;
        expect(Math.abs(shown - expected), `${a} to ${b}, moment ${run}, ${mode}`).toBeLessThan(
          0.01 + Math.abs(expected) * 1e-3,
        );
      }
    }
    // A moment of every kind, or the comparison would prove little.
    for (const [kind, count] of Object.entries(kinds)) expect(count, kind).toBeGreaterThan(2);
    report('ngspice beside the meter', [kinds]);
  });

  test('solves 20 random networks as the solver does (seed 5)', async () => {
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
        const [volts, innerOhms] = [random.between(-24, 24), random.between(0.1, 10)];
        elements.push({ kind: 'voltage', plus: a, minus: b, volts, innerOhms });
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
});
