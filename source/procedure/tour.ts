import { fold } from '../wiring/act-on.ts';
import { boardOf } from '../wiring/bench.ts';
import type { Wiring } from '../wiring/wiring.ts';
import type { JobState } from './state.ts';
import type { Procedure, SweepProof } from './step.ts';

const known = new WeakMap<JobState['context']['status'], { procedure: Procedure; wiring: Wiring | null }>();

/** The wiring by what is done: as found, with the acts of every card that passed. Null where a job stores none. */
export function wiringByNow(procedure: Procedure, { context: { status } }: JobState): Wiring | null {
  const one = known.get(status);
  if (one?.procedure === procedure) return one.wiring;
  const done = procedure.steps.filter((step) => status[step.id] === 'done');
  const acts = done.flatMap((step) => step.acts.map((act) => ({ act, went: 'done' as const })));
  const wiring = procedure.found === undefined ? null : fold(procedure.found, acts).wiring;
  known.set(status, { procedure, wiring });
  return wiring;
}

/**
 * Where a probe goes to prove all dead: each place of the panel side once, rails first, then the old strip in the order
 * of its screws, then what hangs beside it, then the boards. What is under one screw is one place; a splice or what
 * came off a screw together goes by the first of its wires, an end by itself by its own.
 *
 * @param rails screws and terminals of supplies; those of a panel that is gone or a board in its box are left out
 * @param isLive places that are live on purpose, by a wire or screw of theirs
 * @param isWanted wires whose places are asked for; all of them unless said
 */
export function tourOf(
  wiring: Wiring,
  rails: readonly string[],
  isLive: (point: string) => boolean = () => false,
  isWanted: (conductor: string) => boolean = () => true,
): string[] {
  const panelGone = wiring.removed.includes('panel');
  const isThere = (node: string) => {
    const board = boardOf(node);
    return board === null ? !(panelGone && node.startsWith('old:')) : wiring.mounted.includes(board);
  };
  const places = new Map<string, string[]>();
  for (const { id, near, atPanel } of wiring.conductors)
    if (atPanel) places.set(near, [...(places.get(near) ?? []), id]);
  const named = [...places]
    .filter(([node, wires]) => !isLive(node) && !wires.some(isLive) && wires.some(isWanted))
    .map(([node, wires]) => (isFixedPlace(node) && isThere(node) ? node : wires[0]!));
  // A screw that holds the leg of a resistor alone is touched as well, by whoever takes it off.
  const legs = wiring.resistors
    .flatMap(({ a, b }) => [a, b])
    .filter((node) => node.startsWith('old:') && !places.has(node) && isThere(node) && !isLive(node));
  named.push(...legs);
  const screws = named.filter((point) => point.startsWith('old:')).sort(byScrew);
  const ends = named.filter((point) => !isFixedPlace(point));
  const terminals = named.filter((point) => boardOf(point) !== null);
  return [
    ...new Set([...rails.filter((rail) => isThere(rail) && !isLive(rail)), ...screws, ...ends, ...terminals]),
  ];
}

/** A screw or terminal that has a name of its own on the strip. */
function isFixedPlace(node: string): boolean {
  return node.startsWith('old:') || boardOf(node) !== null;
}

function byScrew(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}

/** A sweep over the places of now. The first of what it had stays, where nothing is left, so that a sweep is always one. */
export function touring(
  proof: SweepProof,
  wiring: Wiring,
  live: ReadonlySet<string>,
  isWanted?: (conductor: string) => boolean,
): SweepProof {
  const { tour } = proof;
  if (tour === undefined) return proof;
  const points = tourOf(wiring, tour.rails, (point) => live.has(point), isWanted);
  const against = wiring.removed.includes('panel') ? tour.against.panelGone : tour.against.panel;
  return {
    ...proof,
    label: proof.label.replace(tour.against.panel, against),
    points: points.length > 0 ? points : proof.points.slice(0, 1),
  };
}
