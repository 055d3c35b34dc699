import type { Circuit, Plan } from '../../../source/plan/plan.ts';
import type { Building, Resistor } from '../../../source/rehearsal/building/building.ts';
import { isFixed } from '../../../source/rehearsal/building/places.ts';
import type { Called } from '../../../source/rehearsal/technician/literal.ts';
import type { Wiring } from '../../../source/wiring/wiring.ts';

/** One thing of the building that is otherwise than the papers say. */
export type Otherwise = { readonly item: string; readonly paper: string; readonly building: string };

/** Lays the building as it stands beside what the plan says is there by now, item by item. */
export function compareWithPlan(plan: Plan, found: Building, now: Building, called: Called): Otherwise[] {
  return [...conductors(plan, found, now, called), ...resistors(plan, now, called)];
}

function conductors(plan: Plan, found: Building, now: Building, called: Called): Otherwise[] {
  const joints = new Map<string, string>();
  return plan.connections.flatMap(({ conductor, to }): Otherwise[] => {
    const near = now.wires.get(conductor)?.near ?? 'nowhere';
    const differs = (paper: string) => [{ item: conductor, paper, building: near }];
    if ('terminal' in to) {
      const terminal = `${to.board}:${to.terminal}`;
      const behind = resistorInRow(plan, to.board, to.terminal);
      if (!behind) return near === terminal ? [] : differs(terminal);
      const part = [...now.resistors.values()].find(
        ({ a, b }) => [a, b].includes(near) && [a, b].includes(terminal),
      );
      return part !== undefined && near !== terminal ? [] : differs(`${terminal} behind its resistor`);
    }
    if ('joint' in to) {
      const known = joints.get(to.joint) ?? near;
      joints.set(to.joint, known);
      const isSplice = !isFixed(now, near) && joinedWith(now, conductor, near).length > 0;
      return near === known && isSplice ? [] : differs(to.joint);
    }
    if ('stays' in to) {
      // Out at a detector an end may be brought to what a resistor left bare.
      if (!plan.wiring.conductors.some(({ id, atPanel }) => id === conductor && atPanel)) return [];
      const was = found.wires.get(conductor)!.near;
      return near === was ? [] : differs(called(to.stays));
    }
    const isAlone = !isFixed(now, near);
    return isAlone ? [] : differs('insulated by itself');
  });
}

function joinedWith(building: Building, conductor: string, node: string): string[] {
  return [...building.wires.values()]
    .filter(({ id, near, far }) => id !== conductor && (near === node || far === node))
    .map(({ id }) => id)
    .sort();
}

/** Whether a resistor stands between an input's terminal and what lands there. */
function resistorInRow(plan: Plan, board: string, terminal: string): boolean {
  const circuit = plan.circuits.find((one) => one.board === board && one.terminal === terminal);
  return circuit !== undefined && circuit.contact !== 'normally-open' && ohmsAtInput(circuit) !== null;
}

function ohmsAtInput({ resistor: { work, ohms, newOhms, at } }: Circuit): number | 'unknown' | null {
  if (at !== null && typeof at === 'object') return null;
  if (work === 'keep' && at === 'panel') return ohms ?? 'unknown';
  return newOhms;
}

/** Every resistor that is to be there, by its value, beside those that are. */
function resistors(plan: Plan, now: Building, called: Called): Otherwise[] {
  const otherwise: Otherwise[] = [];
  const explained = new Set<string>();
  const moved = new Set(plan.circuits.flatMap(({ resistors: works }) => Object.keys(works)));
  const expect = (item: string, paper: string, part: Resistor | undefined, ohms: number | 'unknown') => {
    if (part !== undefined) explained.add(part.id);
    const fits = part !== undefined && (ohms === 'unknown' || Math.abs(part.ohms / ohms - 1) < 0.06);
    if (!fits)
      otherwise.push({ item, paper, building: part === undefined ? 'none' : `${Math.round(part.ohms)} ohm` });
  };
  for (const { id: zone, fitted } of plan.zones) {
    for (const { id, work, at, ohms } of fitted) {
      const part = now.resistors.get(called(id));
      const goesAlong = work === 'keep' && at === 'panel';
      if (work === 'keep' && !goesAlong) expect(id, `stays, ${ohms} ohm`, part, ohms);
      // One that is replaced at a detector has the new one in its place.
      else if (part !== undefined && work !== 'replace' && moved.has(zone)) {
        explained.add(part.id);
        otherwise.push({
          item: id,
          paper: goesAlong ? 'at its new input' : 'out',
          building: `${Math.round(part.ohms)} ohm`,
        });
      }
    }
  }
  for (const circuit of plan.circuits) {
    const { board, input, terminal, resistor } = circuit;
    const ohms = ohmsAtInput(circuit);
    const there = [...now.resistors.values()].find(({ a, b }) => [a, b].includes(`${board}:${terminal}`));
    if (ohms !== null) expect(`${board}/${input}`, `${ohms} ohm at the input`, there, ohms);
    const { at, newOhms } = resistor;
    if (newOhms !== null && at !== null && typeof at === 'object') {
      const inZone = [...now.resistors.values()].filter(({ zone }) => zone === circuit.fromZone);
      const part = inZone.find((one) => !explained.has(one.id) && Math.abs(one.ohms / newOhms - 1) < 0.06);
      expect(`${board}/${input} at ${at.detector}`, `${newOhms} ohm`, part, newOhms);
    }
    for (const [zone, { newAlarmOhms }] of Object.entries(circuit.resistors)) {
      if (newAlarmOhms === undefined) continue;
      const own = [...now.resistors.values()].filter(({ id }) => id.startsWith('fitted:'));
      const atContacts = own.filter((one) => one.zone === zone && !explained.has(one.id));
      for (const part of atContacts) expect(part.id, `${newAlarmOhms} ohm`, part, newAlarmOhms);
    }
  }
  for (const part of now.resistors.values())
    if (moved.has(part.zone) && !explained.has(part.id))
      otherwise.push({ item: part.id, paper: 'nothing', building: `${Math.round(part.ohms)} ohm` });
  return otherwise;
}

/** Lays the building beside what the record says is there now, item by item: ends at the panel, resistors, sources. */
export function compareWithRecord(wiring: Wiring, now: Building, called: Called): Otherwise[] {
  const places = new Map<string, string>();
  const ends = wiring.conductors.flatMap(({ id, near, atPanel }): Otherwise[] => {
    const place = now.wires.get(id)!.near;
    if (!atPanel || near.startsWith('unknown:')) return [];
    const known = places.get(near) ?? place;
    places.set(near, known);
    const isNamed = near.startsWith('old:') || /^b\d+:/.test(near);
    const isSame = isNamed ? called(near) === place : known === place;
    return isSame ? [] : [{ item: id, paper: near, building: place }];
  });
  return [...ends, ...resistorsByRecord(wiring, now), ...sourcesByRecord(wiring, now)];
}

/** By zone and value: what a resistor is called is the paper's own. */
function resistorsByRecord(wiring: Wiring, now: Building): Otherwise[] {
  const left = [...now.resistors.values()];
  const missing = wiring.resistors.flatMap(({ id, zone, ohms }): Otherwise[] => {
    const at = left.findIndex(
      (one) => one.zone === zone && (ohms === 'unknown' || Math.abs(one.ohms / ohms - 1) < 0.06),
    );
    if (at >= 0) left.splice(at, 1);
    return at >= 0 ? [] : [{ item: id, paper: `${ohms} ohm`, building: 'none' }];
  });
  const more = left.map(({ id, ohms }) => ({
    item: id,
    paper: 'nothing',
    building: `${Math.round(ohms)} ohm`,
  }));
  return [...missing, ...more];
}

/** Whatever the record has off must be off, and the other way round. */
function sourcesByRecord({ isolated, removed }: Wiring, now: Building): Otherwise[] {
  return [...now.sources.values()].flatMap(({ name, connected, induced, feedsBoard }): Otherwise[] => {
    // A board's own is not there before it is connected, which the record does not call isolated.
    if (induced || feedsBoard !== null || name.startsWith('board-battery')) return [];
    const isOff = isolated.includes(name) || removed.includes(name);
    return isOff === !connected
      ? []
      : [{ item: name, paper: isOff ? 'off' : 'on', building: connected ? 'on' : 'off' }];
  });
}
