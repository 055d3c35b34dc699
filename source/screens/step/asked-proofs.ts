import type { Plan } from '../../plan/plan.ts';
import { placeName } from '../../procedure/place-name.ts';
import type { Proof, Step } from '../../procedure/step.ts';
import type { OpenJob } from '../app/state.ts';

/**
 * The proofs of a step as they are asked: each reading says of which zone it is, and where the probes go if its label
 * does not; the points of a sweep come in the order of the screws.
 */
export function askedProofs(job: OpenJob, step: Pick<Step, 'about' | 'proof'>): readonly Proof[] {
  return step.proof.map((proof) => {
    if (proof.kind === 'sweep') return { ...proof, points: inScrewOrder(job.plan, proof.points) };
    if (proof.kind !== 'reading') return proof;
    const zone = zoneOf(job.plan, step, proof.between);
    const named = zone === null || proof.label.includes(zone) ? proof.label : `${zone}: ${proof.label}`;
    return { ...proof, label: `${named}${proof.of === 'ohms' ? '' : probesOf(proof.label, proof.between)}` };
  });
}

// The zone between whose screws it is read, or else the only one the step is about.
function zoneOf(
  plan: Plan,
  { about }: Pick<Step, 'about'>,
  between: readonly [string, string],
): string | null {
  const zones = plan.survey.zones.filter(({ id }) => about.includes(id));
  const ends = between.map((end) => screwOf(plan, end));
  const read = zones.find(({ id }) => {
    const loop = plan.wiring.loops[id];
    return loop?.every((screw) => ends.includes(bareScrew(screw))) ?? false;
  });
  const zone = read ?? (zones.length === 1 && isInZone(plan, zones[0]!.id, between) ? zones[0] : undefined);
  return zone ? `${zone.id} ${zone.name}` : null;
}

function isInZone(plan: Plan, zone: string, between: readonly [string, string]): boolean {
  const own = plan.wiring.conductors.filter((one) => one.zone === zone);
  return between.some((end) => own.some(({ id }) => id === end || screwOf(plan, id) === screwOf(plan, end)));
}

function probesOf(label: string, between: readonly [string, string]): string {
  if (!between.every((end) => end.startsWith('old:'))) return '';
  const isSaid = between.every((end) => new RegExp(`\\b${end.slice('old:'.length)}\\b`).test(label));
  return isSaid ? '' : `, red probe on ${placeName(between[0])}, black on ${placeName(between[1])}`;
}

/** The name of the screw that a point is at, or that a conductor belongs to; null where it has none. */
export function screwOf(plan: Plan, point: string): string | null {
  if (point.startsWith('old:')) return bareScrew(point);
  const screw = plan.wiring.conductors.find((one) => one.id === point)?.screw ?? null;
  return screw === null ? null : bareScrew(screw);
}

/** A screw by its name alone, as it is printed at the strip. */
export function bareScrew(screw: string): string {
  return screw.replace(/^old:/, '');
}

/** Points as one meets them along the strip: by screw, the screw before its wires; what has none comes last. */
export function inScrewOrder(plan: Plan, points: readonly string[]): readonly string[] {
  const placeOf = (point: string) => {
    const screw = screwOf(plan, point) ?? '';
    return /^\d+$/.test(screw) ? Number(screw) : Number.POSITIVE_INFINITY;
  };
  return points
    .map((point, index) => ({ point, index, place: placeOf(point) }))
    .sort((a, b) => (a.place === b.place ? a.index - b.index : a.place - b.place))
    .map(({ point }) => point);
}
