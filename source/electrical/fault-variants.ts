import { cableFaults } from './faults-of-cables.ts';
import { contactFaults } from './faults-of-contacts.ts';
import { resistorFaults } from './faults-of-resistors.ts';
import type { FaultyLoop } from './faulty-loop.ts';
import type { Expression } from './loop.ts';

/** What is known of the site beyond the loop itself. */
export type FaultCircumstances = {
  /** Ohms of resistors that may sit where none is expected; the trade's values where not given. */
  readonly resistors?: readonly number[];
};

/**
 * Every single fault of a loop that the loop itself can have, as the loop it would then be: its resistors
 * left in, doubled, missing or of another value, its contacts stuck, bridged or without supply, its cables
 * cut, shorted, corroded, damp or of another length or conductor, the meter's leads. What neighbours and
 * hidden parts could do is for whoever knows the building.
 *
 * @example faultVariants({kind: 'resistor', ohms: 2200, tolerance: 0.05}).some((one) => one.cause === 'resistors-in-series') // => true
 */
export function faultVariants(
  expression: Expression,
  circumstances: FaultCircumstances = {},
): readonly FaultyLoop[] {
  return [
    ...contactFaults(expression),
    ...resistorFaults(expression, circumstances.resistors),
    ...cableFaults(expression),
  ];
}
