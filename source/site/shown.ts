import type { QuantityKind } from '../electrical/quantity.ts';
import { writeQuantity } from './write-quantity.ts';

/** What each field of a survey measures, by the last part of its name. */
const MEASURES: Readonly<Record<string, QuantityKind>> = {
  cableTemperature: 'celsius',
  batteryTemperature: 'celsius',
  length: 'metres',
  standby: 'amps',
  alarm: 'amps',
  minimum: 'volts',
  maximum: 'volts',
  warmUp: 'seconds',
};

/** A value that a default filled in, as people would have written it. */
export function shownValue(field: string, value: unknown): string {
  const kind = MEASURES[field.slice(field.lastIndexOf('.') + 1)];
  if (typeof value === 'number') return kind === undefined ? String(value) : writeQuantity(value, kind);
  if (typeof value === 'object' && value !== null && 'name' in value) return String(value.name);
  return value === null ? 'none' : String(value);
}
