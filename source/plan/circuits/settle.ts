import { type Expression, evaluateLoop } from '../../electrical/loop.ts';
import type { Survey } from '../../site/survey.ts';
import { readBetween } from '../../wiring/read-between.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import type { Unit } from '../grouping/units.ts';
import { closedStates, contactsOf, senseOf } from '../loops/contacts.ts';
import { contactsOfZones, type Field } from '../loops/field.ts';
import type { Circuit } from '../plan.ts';
import { ownsResistor, worksOf, zonesOf } from './circuit-resistors.ts';

/** A circuit as far as it is settled before its work is done: what lands where, and what becomes of its resistors. */
export type SettledCircuit = Pick<
  Circuit,
  | 'board'
  | 'input'
  | 'terminal'
  | 'common'
  | 'contact'
  | 'detectors'
  | 'fromZone'
  | 'purpose'
  | 'split'
  | 'resistor'
  | 'resistors'
>;

/**
 * What each new input is wired with and what becomes of each resistor on it.
 *
 * @param gone the wiring landed, with every resistor out: what the loops are worth without any
 */
export function settleCircuits(
  survey: Survey,
  field: Field,
  gone: Wiring,
  circuits: readonly CircuitEnds[],
): SettledCircuit[] {
  const perZone = new Map<string, number>();
  for (const { placed } of circuits)
    for (const zone of zonesOf(placed.group.units)) perZone.set(zone, (perZone.get(zone) ?? 0) + 1);
  const owners = new Set<string>();
  return circuits.map((ends) => {
    const { board, input, group } = ends.placed;
    const [first] = group.units;
    const zones = zonesOf(group.units);
    const facts = {
      split: zones.some((zone) => perZone.get(zone)! > 1),
      owned: zones.filter((zone) => ownsResistor(survey, ends, zone, owners)),
    };
    const bare = circuitLoop(gone, ends);
    const own = contactsOfZones(field, zones);
    const resistors = worksOf(survey, ends, facts, evaluateLoop(bare, closedStates(contactsOf(bare))).max);
    return {
      board: board.id,
      input: input.id,
      terminal: input.terminal,
      common: input.common,
      contact: senseOf(contactsOf(bare).filter(({ detector }) => own.has(detector))),
      detectors: detectorsOf(survey, group.units),
      fromZone: first!.zone,
      purpose: first!.purpose,
      split: facts.split,
      resistor: resistors[first!.zone]!,
      resistors,
    };
  });
}

/** What stands between the two terminals of a circuit's input. */
export function circuitLoop(wiring: Wiring, { placed: { board, input } }: CircuitEnds): Expression {
  return readBetween(wiring, `${board.id}:${input.terminal}`, `${board.id}:${input.common}`);
}

/** The detectors that report on an input; for a tamper loop what it passes through. */
function detectorsOf(survey: Survey, units: readonly Unit[]): string[] {
  return units.flatMap((unit) =>
    unit.purpose === 'tamper'
      ? (survey.tampers.find(({ id }) => id === unit.zone)?.through ?? [])
      : unit.detectors,
  );
}
