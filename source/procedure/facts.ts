import { computeLifeSafety, type LifeSafety } from '../plan/life-safety.ts';
import { readField } from '../plan/loops/field.ts';
import type { Circuit, Connection, MeasuringPoint, Plan } from '../plan/plan.ts';
import { mayBeMainsFed, mayBeMonitored, ownBattery } from '../site/outside.ts';
import { groupBy } from '../site/pairs.ts';
import type { Cable, Detector, Sounder } from '../site/survey.ts';
import type { WiredConductor } from '../wiring/wiring.ts';
import { groupLabels, type LabelGroup } from './label-groups.ts';

/** What the stages ask about a plan, worked out once. */
export type Facts = {
  readonly plan: Plan;
  readonly held: LifeSafety;
  readonly conductors: readonly WiredConductor[];
  /** Conductors that stay where they are and share a screw or core with none of the others are in neither list. */
  readonly shared: ReadonlySet<string>;
  readonly conductor: (id: string) => WiredConductor | undefined;
  readonly detector: (id: string) => Detector | undefined;
  readonly cable: (id: string) => Cable | undefined;
  readonly connection: (conductor: string) => Connection | undefined;
  readonly onScrew: (screw: string) => readonly WiredConductor[];
  readonly points: (phase: MeasuringPoint['phase'], zone: string) => readonly MeasuringPoint[];
  /** What one card labels, in the order of the conductors. */
  readonly labels: readonly LabelGroup[];
  /** The card that labels a conductor; none for one that does not end at the panel. */
  readonly labelCard: (conductor: string) => string | undefined;
  /** Zones and tamper loops that are moved, with their names. */
  readonly loops: readonly {
    readonly id: string;
    readonly name: string;
    readonly detectors: readonly string[];
    /** Its screws at the old panel, `old:8`. */
    readonly terminals: readonly string[];
  }[];
  readonly circuits: readonly Circuit[];
  /** Sounders that may sound by themselves when their line goes. */
  readonly selfPowered: readonly Sounder[];
  readonly mainsFed: boolean;
  readonly hasLifeSafety: boolean;
  /** The receiving centre counts as there until somebody has looked. */
  readonly mayBeMonitored: boolean;
};

/** What stages ask of a plan again and again, worked out once. */
export function readFacts(plan: Plan): Facts {
  const { survey, wiring } = plan;
  const held = computeLifeSafety(survey, readField(wiring));
  const conductors = new Map(wiring.conductors.map((one) => [one.id, one]));
  const connections = new Map(plan.connections.map((one) => [one.conductor, one]));
  const detectors = new Map(survey.detectors.map((one) => [one.id, one]));
  const cables = new Map(survey.cables.map((one) => [one.id, one]));
  const byScrew = groupBy(
    wiring.conductors.filter((one) => one.atPanel && one.screw !== null),
    (one) => bare(one.screw ?? ''),
  );
  const points = groupBy(plan.points, (one) => `${one.phase} ${one.zone}`);
  const labels = groupLabels(wiring.conductors);
  const labelCards = new Map(
    labels.flatMap(({ card, conductors: all }) => all.map(({ id }): [string, string] => [id, card])),
  );
  const { lifeSafety } = survey.outside;
  const tampers = survey.tampers.filter((one) => one.keep === 'yes');
  return {
    plan,
    held,
    conductors: wiring.conductors,
    shared: new Set(sharingWith(held, wiring.conductors).map((one) => one.id)),
    conductor: (id) => conductors.get(id),
    detector: (id) => detectors.get(id),
    cable: (id) => cables.get(id),
    connection: (id) => connections.get(id),
    onScrew: (screw) => byScrew.get(bare(screw)) ?? [],
    points: (phase, zone) => points.get(`${phase} ${zone}`) ?? [],
    labels,
    labelCard: (id) => labelCards.get(id),
    loops: [
      ...survey.zones.map(({ id, name, detectors, terminals }) => ({
        id,
        name,
        detectors,
        terminals: terminals.map(screwNode),
      })),
      ...tampers.map(({ id, through, terminals }) => ({
        id,
        name: `tamper loop ${id}`,
        detectors: through,
        terminals: terminals.map(screwNode),
      })),
    ].filter((loop) => !held.zones.has(loop.id)),
    circuits: plan.circuits,
    selfPowered: survey.sounders.filter(
      (one) => ownBattery(one, survey) !== 'no' || one.wiring !== 'two-wire',
    ),
    mainsFed: mayBeMainsFed(survey.outside),
    hasLifeSafety: lifeSafety !== 'none' || held.heldOut.length > 0,
    mayBeMonitored: mayBeMonitored(survey.outside),
  };
}

/** `old:8` and `8` are one screw. */
export function bare(screw: string): string {
  return screw.replace(/^old:/, '');
}

const screwNode = (screw: string) => `old:${bare(screw)}`;

/** What shares a screw or a place with a life-safety circuit without belonging to one. */
function sharingWith(held: LifeSafety, all: readonly WiredConductor[]): WiredConductor[] {
  const heldAt = all.filter((one) => held.conductors.has(one.id));
  const screws = new Set(heldAt.flatMap((one) => (one.screw === null ? [] : [bare(one.screw)])));
  const cables = new Set(heldAt.map((one) => one.cable));
  return all.filter(
    (one) =>
      !held.conductors.has(one.id) &&
      ((one.screw !== null && screws.has(bare(one.screw))) || cables.has(one.cable)),
  );
}

/** The new place of a conductor, a board's terminal or a joint; null where it is parked, stays or has no end here. */
export function landsAt(facts: Facts, one: WiredConductor): string | null {
  return facts.plan.work.landings[one.id] ?? null;
}

/**
 * A place as a card says it.
 *
 * @example placeName('old:8') // => 'screw 8'
 * @example placeName('b1:I1:resistor') // => 'the free leg of the resistor at b1:I1'
 */
export function placeName(node: string): string {
  if (node.startsWith('old:')) return `screw ${bare(node)}`;
  const [board, terminal, leg] = node.split(':');
  return leg === undefined ? node : `the free leg of the resistor at ${board}:${terminal}`;
}

/** How a conductor is called on a card: `white of c1 (c1/1, screw 8)`. */
export function wire(facts: Facts, id: string): string {
  const one = facts.conductor(id);
  if (!one) return id;
  const at = one.screw === null ? '' : `, screw ${bare(one.screw)}`;
  return `${one.colour} of ${one.cable} (${id}${at})`;
}

/** A list as it is said: `a, b and c`. */
export function listed(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** Ids of the records that life safety is kept, where there is any to keep; one of the two is excluded by the choice. */
export function lifeSafetyRecords(facts: Facts): string[] {
  return facts.hasLifeSafety ? ['life-safety.independent', 'impairment.open'] : [];
}
