import { describe, expect, test } from 'vitest';
import { evaluateLoop } from '../../source/electrical/loop.ts';
import type { Plan } from '../../source/plan/plan.ts';
import type { Board } from '../../source/site/board.ts';
import type { Change } from '../../source/site/correct-survey.ts';
import { Ngspice } from '../electrical/ngspice.ts';
import { report, scale } from '../scale.ts';
import { numbers } from './grouping-drawn.ts';
import { planOfShed } from './quiet-site.ts';

type DrawnZone = {
  readonly id: string;
  readonly sense: 'normally-closed' | 'normally-open';
  readonly detectors: string[];
};

/** One cable with a core for each of up to nine contacts and one return for all of them; what closes in alarm may share an input. */
function drawShed(seed: number): { zones: DrawnZone[]; changes: Change[]; board: (quiet: Board) => Board } {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const zones: DrawnZone[] = [];
  let detectors = 0;
  for (let zone = 0, count = 1 + upTo(6); zone < count; zone++) {
    const isOpen = next() < 0.5;
    const many = isOpen ? 1 + upTo(3) : 1;
    zones.push({
      id: `s${zone}`,
      sense: isOpen ? 'normally-open' : 'normally-closed',
      detectors: Array.from({ length: many }, () => `x${detectors++}`),
    });
  }
  const set = (path: string, value: unknown): Change => ({ path, value }) as Change;
  // Some of those that close in alarm come in on a pair of their own, so that one contact is the worst of its group.
  const apart = zones
    .filter(({ sense }) => sense === 'normally-open')
    .flatMap((zone) => zone.detectors)
    .filter(() => next() < 0.3);
  const all = zones.flatMap((zone) => zone.detectors).filter((id) => !apart.includes(id));
  const changes = [
    set('zones.z1', null),
    set('zones.z2', null),
    set('detectors.bay', null),
    set('detectors.hatch', null),
    set('detectors.crew', null),
    set('cables.c1', null),
    set('cables.c2', null),
    set('cables.c3', null),
    set('cables.c9', {
      id: 'c9',
      length: `${20 + upTo(400)} m`,
      measured: next() < 0.5 ? 'yes' : 'no',
      conductor: ['22 AWG', '24 AWG', '0.22 mm2'][upTo(3)],
      cores: [
        ...all.map((id, at) => ({ colour: `c${at}`, use: 'loop', for: id })),
        { colour: 'brown', use: 'common' },
      ],
    }),
    ...apart.map((id) =>
      set(`cables.w${id}`, {
        id: `w${id}`,
        length: `${20 + upTo(900)} m`,
        measured: 'yes',
        conductor: '24 AWG',
        cores: [
          { colour: 'white', use: 'loop' },
          { colour: 'green', use: 'loop' },
        ],
      }),
    ),
    ...[...all, ...apart].map((id) => {
      const { sense } = zones.find((zone) => zone.detectors.includes(id))!;
      return set(`detectors.${id}`, {
        id,
        kind: 'window-contact',
        contact: sense,
        place: 'interior',
        cable: apart.includes(id) ? `w${id}` : 'c9',
      });
    }),
    set('panel.terminals', [
      { number: '1', role: 'aux-positive' },
      { number: '2', role: 'aux-negative' },
      { number: '3', role: 'sounder' },
      { number: '4', role: 'sounder' },
      { number: 'C', role: 'common' },
      ...zones.map((_, at) => ({ number: `Z${at}`, role: 'zone' })),
    ]),
    ...zones.map(({ id, sense, detectors: own }, at) =>
      set(`zones.${id}`, {
        id,
        terminals: [`Z${at}`, 'C'],
        loop:
          sense === 'normally-open'
            ? { style: 'across', resistor: '2k2', resistorAt: 'panel' }
            : { style: 'plain' },
        joined: 'panel',
        detectors: own,
      }),
    ),
  ];
  const referenceVolts = [3.3, 5, 12][upTo(3)]!;
  const sensing = {
    pullUpOhms: [470, 1000, 2200, 4700][upTo(4)]!,
    referenceVolts,
    closedBelowVolts: referenceVolts * (0.02 + 0.2 * next()),
    openAboveVolts: referenceVolts * 0.6,
    pullUpTolerance: [0, 0.01, 0.05][upTo(3)]!,
    inputMaximumVolts: 15,
  };
  const inputs = zones.map((_, at) => ({ id: String(at + 1), terminal: `I${at + 1}`, common: 'COM' }));
  return { zones, changes, board: (quiet) => ({ ...quiet, inputs, sensing }) };
}

/**
 * What ngspice finds at an input: its own contact closed at 2 Ω and its own cores as long as they may be, every
 * other contact on the return closed at nothing and its core as short, all currents coming back over it. What
 * comes in on a pair of its own beside them takes current off the return, so it is open. Source: Ohm and Kirchhoff by
 * ngspice; of the plan only where conductors land and what a core is worth.
 */
async function inputVolts(ngspice: Ngspice, plan: Plan, input: string, closed: string): Promise<number> {
  const { pullUpOhms, pullUpTolerance, referenceVolts } = plan.boards[0]!.sensing;
  const elements: string[] = [];
  const circuit = plan.circuits.find((one) => one.input === input)!;
  const coresOf = (id: string) => {
    const { conductors } = plan.wiring;
    const own = conductors.filter(({ cable }) => cable === `w${id}`);
    return own.length > 0 ? own : conductors.filter((one) => one.cable === 'c9' && one.for === id);
  };
  const shared = plan.wiring.conductors.find((one) => one.cable === 'c9' && one.use === 'common')!;
  elements.push(`rret back 0 ${shared.ohms.max}`);
  for (const one of plan.circuits) {
    elements.push(`vref${one.input} p${one.input} 0 ${referenceVolts}`);
    elements.push(`rup${one.input} p${one.input} i${one.input} ${pullUpOhms * (1 - pullUpTolerance)}`);
    for (const id of one.detectors) {
      if (one === circuit && id !== closed) continue;
      const cores = coresOf(id);
      if (one !== circuit && cores.length > 1) continue;
      const end = one === circuit ? 'max' : 'min';
      const ohms = cores.reduce((sum, core) => sum + core.ohms[end], one === circuit ? 2 : 0);
      elements.push(`r${id} i${one.input} ${cores.length > 1 ? '0' : 'back'} ${ohms}`);
    }
  }
  return (await ngspice.solve(elements)).get(`v(i${circuit.input})`)!;
}

describe('inputs on one return, normally open groups among them, against ngspice', async () => {
  const ngspice = await Ngspice.start();
  const SITES = scale(1000, 0.05);

  test(`${SITES} sites: volts at every input, and which are not surely closed (seeds from 90000)`, async () => {
    const counts = { inputs: 0, 'not surely closed': 0, 'only by the rise': 0, groups: 0, worst: 0 };
    for (let seed = 90_000; seed < 90_000 + SITES; seed++) {
      const { changes, board } = drawShed(seed);
      const plan = planOfShed({ changes, board });
      const { sensing } = plan.boards[0]!;
      const pullUpOhms = sensing.pullUpOhms * (1 - sensing.pullUpTolerance);
      for (const circuit of plan.circuits) {
        const who = `seed ${seed}, input ${circuit.input}`;
        const isOpen = circuit.contact === 'normally-open';
        let worst = 0;
        let alone = 0;
        for (const id of circuit.detectors) {
          const volts = await inputVolts(ngspice, plan, circuit.input, id);
          const ohms = evaluateLoop(circuit.expression, isOpen ? { [id]: 'active' } : {}).max;
          // The plan's rise and its loop by this contact give the same volts at the input.
          const share = ohms / pullUpOhms;
          const rise = circuit.returnRiseVolts[isOpen ? id : 'rest'] ?? 0;
          const ours = (rise + sensing.referenceVolts * share) / (1 + share);
          const off = Math.abs(ours - volts) / sensing.referenceVolts;
          expect(off, `${who} ${id}`).toBeLessThan(1e-9);
          counts.worst = Math.max(counts.worst, off);
          worst = Math.max(worst, volts);
          alone = Math.max(alone, ohms);
        }
        const isSure = worst <= sensing.closedBelowVolts;
        const near = Math.abs(worst - sensing.closedBelowVolts) / sensing.referenceVolts;
        if (near > 1e-9) expect(circuit.margin.closedOhms >= 0, who).toBe(isSure);
        const found = plan.findings.some(
          ({ code, about }) => code === 'input-ambiguous' && about[0] === `b1/${circuit.input}`,
        );
        if (!isSure) expect(found, who).toBe(true);
        counts.inputs += 1;
        if (!isSure) counts['not surely closed'] += 1;
        if (!isSure && alone * sensing.referenceVolts <= sensing.closedBelowVolts * (alone + pullUpOhms))
          counts['only by the rise'] += 1;
        if (circuit.detectors.length > 1) counts.groups += 1;
      }
    }
    report(`Inputs on shared returns against ngspice, ${SITES} sites`, [counts]);
    expect(counts['only by the rise']).toBeGreaterThan(SITES / 50);
    expect(counts.groups).toBeGreaterThan(SITES / 4);
  }, 900_000);
});
