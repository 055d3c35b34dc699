import { describe, expect, test } from 'vitest';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import type { Detector } from '../../source/site/survey.ts';
import { Ngspice } from '../electrical/ngspice.ts';
import { randomSurvey } from '../random-survey.ts';
import { report } from '../scale.ts';

/** Copper at 20 °C and its temperature coefficient: IEC 60028. */
const RESISTIVITY = 0.017241;
const PER_KELVIN = 0.00393;
/** A closed contact, nominal, as the specification has it. */
const CLOSED_OHMS = 0.1;

/**
 * The whole wiring as ngspice sees it, conductor by conductor with each panel end where the plan lands it:
 * nothing of the planner's trees and loop expressions is used.
 */
class SiteNetlist {
  readonly elements: string[] = [];
  readonly #names = new Map<string, string>();
  #count = 0;

  constructor(readonly plan: Plan) {
    const { survey, wiring } = plan;
    const landed = new Map(plan.connections.map((connection) => [connection.conductor, connection.to]));
    for (const { id, cable: of, near, far } of wiring.conductors) {
      const cable = survey.cables.find((one) => one.id === of)!;
      const warm = 1 + PER_KELVIN * (survey.conditions.cableCelsius - 20);
      const ohms = (RESISTIVITY * cable.lengthMetres * warm) / cable.conductor.areaSquareMillimetres;
      const to = landed.get(id)!;
      const end =
        'terminal' in to
          ? `${to.board}:${to.terminal}`
          : 'joint' in to
            ? to.joint
            : 'stays' in to
              ? near
              : id;
      this.resistor(end, far, ohms);
    }
  }

  node(name: string): string {
    const known = this.#names.get(name);
    if (known) return known;
    const fresh = `n${this.#names.size}`;
    this.#names.set(name, fresh);
    // A node that hangs in the air needs a path for the solver; none for what is measured.
    this.elements.push(`rleak${fresh} ${fresh} 0 1e13`);
    return fresh;
  }

  resistor(a: string, b: string, ohms: number): void {
    this.#count += 1;
    this.elements.push(`r${this.#count} ${this.node(a)} ${this.node(b)} ${Math.max(ohms, 1e-9)}`);
  }
}

function isPowered({ supply }: Detector): boolean {
  return supply !== null && supply !== 'from-loop';
}

/** Ten sites with powered detectors, daisy chains among them, none of them beyond what its supply can carry. */
function tenSites(): { seed: number; plan: Plan }[] {
  const sites: { seed: number; plan: Plan }[] = [];
  for (let seed = 500; sites.length < 10; seed++) {
    const { survey, boards } = randomSurvey(seed, { zones: 6, detectors: 14 });
    const plan = planChangeover(survey, boards);
    const powered = survey.detectors.filter(isPowered).length;
    if (powered >= 5 && plan.verdict !== 'blocked') sites.push({ seed, plan });
  }
  return sites;
}

describe('ten whole sites in ngspice, conductor by conductor', async () => {
  const ngspice = await Ngspice.start();
  const sites = tenSites();

  test('the volts at every powered detector, on mains and at the end of the battery, agree to 1 mV', async () => {
    const rows: Record<string, unknown>[] = [];
    for (const { seed, plan } of sites)
      for (const board of plan.boards) {
        const { devices } = plan.supply.find((one) => one.board === board.id)!;
        if (devices.length === 0) continue;
        const cases = [
          { name: 'mains', volts: board.aux.mainsVolts * (1 - board.aux.mainsTolerance) },
          { name: 'batteryEnd', volts: board.battery!.cutOffVolts - board.aux.dropFromBatteryVolts },
        ] as const;
        for (const { name, volts } of cases) {
          const netlist = new SiteNetlist(plan);
          const plus = netlist.node(`${board.id}:${board.aux.positive}`);
          const minus = netlist.node(`${board.id}:${board.aux.negative}`);
          netlist.elements.push(`vaux ${plus} ${minus} ${volts}`, `rground ${minus} 0 1e-6`);
          for (const { id } of devices) {
            const { supply } = plan.survey.detectors.find((one) => one.id === id)!;
            if (supply === null || supply === 'from-loop') throw new Error(`${id} draws nothing`);
            const load = plan.wiring.loads.find(({ device }) => device === id)!;
            const amps = Math.max(supply.standbyAmps, supply.alarmAmps);
            netlist.elements.push(
              `i${id} ${netlist.node(load.positive)} ${netlist.node(load.negative)} ${amps}`,
            );
          }
          const solved = await ngspice.solve(netlist.elements);
          for (const device of devices) {
            const load = plan.wiring.loads.find((one) => one.device === device.id)!;
            const at = (node: string) => solved.get(`v(${netlist.node(node)})`)!;
            const spice = at(load.positive) - at(load.negative);
            const ours = name === 'mains' ? device.mainsVolts : device.batteryEndVolts;
            expect(Math.abs(spice - ours), `seed ${seed} ${device.id} ${name}`).toBeLessThan(0.001);
            rows.push({ seed, board: board.id, device: device.id, case: name, spice, ours });
          }
        }
      }
    expect(rows.length).toBeGreaterThan(100);
    report('Volts at detectors, ngspice and plan', rows.slice(0, 30));
  });

  test('every circuit reads what the plan expects between its new screws, contacts closed', async () => {
    let read = 0;
    for (const { seed, plan } of sites)
      for (const circuit of plan.circuits) {
        if (circuit.contact === 'unknown' || circuit.resistor.work === 'keep') continue;
        const closedOpen = circuit.contact === 'normally-open';
        const expected = closedOpen ? Object.values(circuit.active) : [circuit.rest];
        if (expected.length !== 1 || expected[0]!.expected === null || expected[0]!.expected === 'open')
          continue;
        if (circuit.resistor.newOhms !== null) continue;
        const zones = Object.keys(circuit.resistors);
        const netlist = new SiteNetlist(plan);
        for (const { detector, zone, purpose, a, b } of plan.wiring.contacts)
          if (
            zones.includes(zone) &&
            (circuit.purpose === 'tamper' || circuit.detectors.includes(detector) || purpose === 'tamper')
          )
            netlist.resistor(a, b, CLOSED_OHMS);
        // Resistors in the row at detectors are made through; those across are gone.
        for (const { zone, place, a, b } of plan.wiring.resistors)
          if (zones.includes(zone) && place !== 'panel') netlist.resistor(a, b, 1e-9);
        const terminal = netlist.node(`${circuit.board}:${circuit.terminal}`);
        const common = netlist.node(`${circuit.board}:${circuit.common}`);
        netlist.elements.push(`vmeter ${terminal} ${common} 1`, `rground ${common} 0 1e-6`);
        const loops = plan.survey.zones.filter(({ id }) => zones.includes(id)).map(({ loop }) => loop.style);
        if (loops.some((style) => style !== 'plain' && style !== 'series')) continue;
        const solved = await ngspice.solve(netlist.elements);
        const ohms = -1 / solved.get('i(vmeter)')!;
        expect(ohms, `seed ${seed} ${circuit.board}/${circuit.input}`).toBeCloseTo(
          expected[0]!.expected.nominal,
          3,
        );
        read += 1;
      }
    expect(read).toBeGreaterThan(20);
  });
});
