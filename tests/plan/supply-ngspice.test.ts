import { expect, test } from 'vitest';
import { Ngspice } from '../electrical/ngspice.ts';
import { report, scale } from '../scale.ts';
import { chainedSite } from './chained-site.ts';
import { type Drawn, SupplyNetlist } from './supply-netlist.ts';

// The outside here is ngspice 45.2 as WebAssembly (eecircuit-engine), by nodal analysis, with every core of every
// cable as a resistor of its own.

const SITES = scale(1000, 0.025);
const AGREEMENT = 1e-9;
const TOGETHER = 1;

const CASES: readonly (Drawn & { readonly figure: 'mainsVolts' | 'batteryEndVolts' | 'worstVolts' })[] = [
  { supply: 'mains', copper: 'nominal', figure: 'mainsVolts' },
  { supply: 'batteryEnd', copper: 'nominal', figure: 'batteryEndVolts' },
  { supply: 'mains', copper: 'worst', figure: 'worstVolts' },
  { supply: 'batteryEnd', copper: 'worst', figure: 'worstVolts' },
];

test(`${SITES} sites with sounders and detectors on chains and runs that feed the board (seeds from 0): volts as ngspice finds them`, async () => {
  const ngspice = await Ngspice.start();
  const seeds = Array.from({ length: SITES }, (_, seed) => seed);
  const counts = {
    sites: 0,
    sounders: 0,
    'sounders on a chain': 0,
    detectors: 0,
    'with a lead': 0,
    figures: 0,
  };
  let worst = 0;
  for (let at = 0; at < SITES; at += TOGETHER) {
    const sites = seeds.slice(at, at + TOGETHER).map((seed) => {
      const plan = chainedSite(seed);
      const netlists = CASES.map(
        (drawn, index) => new SupplyNetlist(`s${seed}c${index}`, plan, plan.boards[0]!, drawn),
      );
      return { seed, plan, netlists };
    });
    const solved = await ngspice.solve(
      sites.flatMap(({ netlists }) => netlists.flatMap(({ elements }) => elements)),
    );
    for (const { seed, plan, netlists } of sites) {
      const { devices, sounders } = plan.supply[0]!;
      counts.sites += 1;
      counts.sounders += sounders.length;
      counts.detectors += devices.length;
      counts['with a lead'] += plan.boards[0]!.adapter.lead === null ? 0 : 1;
      const fromPanel = new Set(
        plan.survey.cables.filter(({ from }) => from === 'panel').map(({ id }) => id),
      );
      counts['sounders on a chain'] += plan.survey.sounders.filter(
        ({ cable }) => !fromPanel.has(cable),
      ).length;
      for (const device of [...devices, ...sounders]) {
        const found = netlists.map((netlist) => netlist.volts(solved, device.id));
        const spice = {
          mainsVolts: found[0]!,
          batteryEndVolts: found[1]!,
          worstVolts: Math.min(found[2]!, found[3]!),
        };
        for (const figure of ['mainsVolts', 'batteryEndVolts', 'worstVolts'] as const) {
          // A figure near nothing is held to a nanovolt of the source, not of itself.
          const apart = Math.abs(spice[figure] - device[figure]) / Math.max(Math.abs(spice[figure]), 1);
          expect(
            apart,
            `seed ${seed} ${device.id} ${figure}: ${spice[figure]} and ${device[figure]}`,
          ).toBeLessThan(AGREEMENT);
          worst = Math.max(worst, apart);
          counts.figures += 1;
        }
      }
    }
  }
  report('Chains of sounders and detectors beside ngspice (seeds from 0)', [
    { ...counts, 'worst relative difference': worst.toExponential(1) },
  ]);
  expect(counts['sounders on a chain']).toBeGreaterThan(SITES);
  expect(counts['with a lead']).toBeGreaterThan(SITES / 10);
}, 1_200_000);
