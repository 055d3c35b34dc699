import type { Survey, TamperLoop, Zone } from '../site/survey.ts';
import type { WiredConductor } from '../wiring/wiring.ts';
import type { SettledCircuit } from './circuits/settle.ts';
import type { CircuitEnds } from './connections/circuit-ends.ts';
import type { Destinations } from './connections/destination.ts';
import type { LifeSafety } from './life-safety.ts';
import { isSharedScrew } from './loops/ends.ts';
import type { Field } from './loops/field.ts';
import { computeFittedWork, NO_WORK, supervisionLost } from './loops/resistor-work.ts';
import type { ResistorWork, ZonePlan } from './plan.ts';

/** What is done to each old zone and tamper loop that goes over: which leg is lifted, which joins are parted. */
export function computeZonePlans(
  survey: Survey,
  field: Field,
  destinations: Destinations,
  circuits: readonly SettledCircuit[],
  ends: readonly CircuitEnds[],
  lifeSafety: LifeSafety,
): ZonePlan[] {
  const joinOfZone = new Map(
    ends.flatMap(({ placed, join }) => placed.group.units.map(({ zone }) => [zone, join] as const)),
  );
  const workOfZone = new Map<string, ResistorWork>();
  for (const [zone, work] of circuits.flatMap(({ resistors }) => Object.entries(resistors))) {
    const known = workOfZone.get(zone);
    // Of a split zone's circuits the one that has the old resistor tells what becomes of it.
    if (!known || known.work === 'fit' || known.work === 'none') workOfZone.set(zone, work);
  }
  return [...survey.zones, ...survey.tampers]
    .filter(({ id }) => !lifeSafety.zones.has(id) && field.conductorsOf(id).length > 0)
    .map((zone): ZonePlan => {
      const resistor = workOfZone.get(zone.id) ?? NO_WORK;
      return {
        id: zone.id,
        lift: legToLift(survey, field, zone),
        joins: joinsOf(field, zone.id, destinations),
        resistor,
        fitted: computeFittedWork(field.resistorsOf(zone.id), resistor),
        supervisionLost: supervisionLost(resistor, joinOfZone.get(zone.id) ?? 'series'),
      };
    });
}

/** The leg that no other zone shares, with every conductor of the zone that belongs under its screw. */
function legToLift(survey: Survey, field: Field, zone: Zone | TamperLoop): ZonePlan['lift'] {
  const legs = zone.terminals.map((terminal) => ({
    terminal,
    shared: isSharedScrew(survey, terminal),
    conductors: conductorsUnder(field, zone.id, terminal),
  }));
  const best =
    legs.find(
      ({ shared, conductors }) => !shared && conductors.some(({ near }) => near.startsWith('old:')),
    ) ??
    legs.find(({ shared, conductors }) => !shared && conductors.length > 0) ??
    legs.find(({ conductors }) => conductors.length > 0) ??
    legs[0]!;
  return { terminal: best.terminal, conductors: best.conductors.map(({ id }) => id) };
}

function conductorsUnder(field: Field, zone: string, terminal: string): WiredConductor[] {
  return field.conductorsOf(zone).filter(({ screw }) => screw === terminal);
}

/** Where several conductors of a zone are spliced at the panel, and whether they must come apart. */
function joinsOf(field: Field, zone: string, destinations: Destinations): ZonePlan['joins'] {
  const nodes = new Set(
    field
      .conductorsOf(zone)
      .filter(({ near }) => near.startsWith('join:'))
      .map(({ near }) => near),
  );
  return [...nodes].flatMap((node) => {
    const conductors = (field.conductorsAt.get(node) ?? []).map(({ id }) => id);
    if (conductors.length < 2) return [];
    const part = conductors.some((id) => !('stays' in (destinations.of(id) ?? {})));
    return [{ id: node, conductors, part }];
  });
}
