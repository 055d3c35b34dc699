import type { Act } from '../../wiring/act.ts';
import { type Bench, isPanelPlace } from '../../wiring/bench.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { Destinations } from '../connections/destination.ts';
import type { LifeSafety } from '../life-safety.ts';
import type { Work } from '../plan.ts';
import { doAll } from './zone-acts.ts';

/**
 * What frees the conductors that are still on the old panel once loops are read and parted, wire by wire. What is under
 * a screw is lifted; what is spliced beside the panel, to other wires or to the switch of its lid, is parted; a
 * resistor comes off first. An end that goes nowhere is insulated.
 */
export function clearActs(
  bench: Bench,
  before: Wiring,
  destinations: Destinations,
  lifeSafety: LifeSafety,
): Pick<Work, 'clear' | 'leftOnPanel'> {
  const clear: Record<string, readonly Act[]> = {};
  // What was under a screw is taken off on an earlier card than what only ever hung in a splice.
  const inOrder = [...before.conductors].sort((a, b) => Number(a.screw === null) - Number(b.screw === null));
  for (const { id, atPanel } of inOrder) {
    const to = destinations.of(id);
    if (!atPanel || lifeSafety.conductors.has(id) || (to !== undefined && 'stays' in to)) continue;
    const acts = doAll(bench, freeing(bench, id, destinations));
    const isParked = to === undefined || 'parked' in to;
    // What lies free beside the panel, its resistor gone, is insulated until it is landed.
    const near = bench.near(id);
    if (isParked || isPanelPlace(near)) acts.push(...doAll(bench, [{ do: 'insulate', conductor: id }]));
    if (acts.length > 0) clear[id] = acts;
  }
  const left = bench
    .resistorsAt((node) => node.startsWith('old:'))
    .filter(({ zone }) => !lifeSafety.zones.has(zone));
  const leftOnPanel = doAll(
    bench,
    left.map(({ id, zone }) => ({ do: 'remove-resistor', resistor: id, zone })),
  );
  return { clear, leftOnPanel };
}

/** Off its screw; or, spliced beside the panel, the resistor off and the whole splice apart. */
function freeing(bench: Bench, conductor: string, destinations: Destinations): Act[] {
  const near = bench.near(conductor);
  if (near.startsWith('old:')) return [{ do: 'lift', conductor, at: near.slice('old:'.length) }];
  if (!near.startsWith('join:')) return [];
  const stays = (id: string) => 'stays' in (destinations.of(id) ?? {});
  const wires = bench.conductorsAt(near).filter((id) => bench.near(id) === near && !stays(id));
  const isSpliced = bench.conductorsAt(near).length > 1 || bench.hasContactAt(near);
  return [
    ...bench
      .resistorsAt((node) => node === near)
      .map(({ id, zone }): Act => ({ do: 'remove-resistor', resistor: id, zone })),
    ...(isSpliced ? [{ do: 'part' as const, join: near, conductors: wires }] : []),
  ];
}
