import { CABLE_FAULTS } from './cables.ts';
import { CONTACT_FAULTS } from './contacts.ts';
import type { Fault } from './fault.ts';
import { LABEL_FAULTS } from './labels.ts';
import { METER_FAULTS } from './meter-leads.ts';
import { NEW_BOARD_FAULTS } from './new-board.ts';
import { RESISTOR_FAULTS } from './resistors.ts';
import { SOURCE_FAULTS } from './sources.ts';

/** Every fault there is, by the name of the cause it is. */
export const FAULTS: readonly Fault[] = [
  ...RESISTOR_FAULTS,
  ...CONTACT_FAULTS,
  ...CABLE_FAULTS,
  ...LABEL_FAULTS,
  ...SOURCE_FAULTS,
  ...NEW_BOARD_FAULTS,
  ...METER_FAULTS,
];

/** The fault of that name, or null. */
export function faultNamed(name: string): Fault | null {
  return FAULTS.find((fault) => fault.name === name) ?? null;
}
