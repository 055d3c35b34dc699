import type { Loop, Survey } from '../../site/survey.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import type { Unit } from '../grouping/units.ts';
import { computeResistorWork, hasResistors, NO_WORK } from '../loops/resistor-work.ts';
import type { ResistorWork } from '../plan.ts';

/** The loop of a zone or tamper loop. */
export function loopOf(survey: Survey, zone: string): Loop {
  return [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)!.loop;
}

/** The zones and tamper loops of some units, in their order. */
export function zonesOf(units: readonly Unit[]): string[] {
  return [...new Set(units.map(({ zone }) => zone))];
}

/** Of a split zone's circuits one has the resistor: where it sits, or the first where it sits at the panel. */
export function ownsResistor(
  survey: Survey,
  { placed }: CircuitEnds,
  zone: string,
  owners: Set<string>,
): boolean {
  const { resistorAt } = loopOf(survey, zone);
  const sitsAt = resistorAt !== null && typeof resistorAt === 'object' ? resistorAt.detector : null;
  const mine =
    sitsAt === null
      ? !owners.has(zone)
      : placed.group.units.some(({ detectors }) => detectors.includes(sitsAt));
  if (mine) owners.add(zone);
  return mine;
}

/** Whether a zone of the circuit is split, and whose resistor the circuit has. */
export type ZoneFacts = { readonly split: boolean; readonly owned: readonly string[] };

/** What becomes of the resistor of each zone on the circuit: at most one stays, that of the first zone. */
export function worksOf(
  survey: Survey,
  { placed, join }: CircuitEnds,
  { split, owned }: ZoneFacts,
  loopMaxOhms: number,
): Record<string, ResistorWork> {
  const zones = zonesOf(placed.group.units);
  return Object.fromEntries(
    zones.map((zone, index) => {
      const loop = loopOf(survey, zone);
      const asked = { loop, join, board: placed.board, elsewhere: !owned.includes(zone), split, loopMaxOhms };
      const work = computeResistorWork(asked);
      const stays = index === 0 && (zones.length === 1 || placed.board.supervision !== null);
      if (stays || work.work === 'none') return [zone, work];
      return [zone, hasResistors(loop) ? { ...work, work: 'remove', newOhms: null } : NO_WORK];
    }),
  );
}
