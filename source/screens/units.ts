import { formatQuantity, type QuantityKind } from '../electrical/quantity.ts';
import type { ScreenSettings } from './settings.ts';

const METRIC = /(−?\d+(?:\.\d+)?) (mm|cm|km|m|°C)(?![\p{L}²³/])/gu;
const METRES: Readonly<Record<string, number>> = { mm: 0.001, cm: 0.01, m: 1, km: 1000 };

/**
 * A sentence with its lengths and temperatures in the units that somebody set. Plan and findings say them in
 * metres; what was typed into a survey stays as it was typed.
 *
 * @example inUnits('There is 0.15 m to spare.', 'imperial') // => 'There is 5.91 in to spare.'
 */
export function inUnits(says: string, units: ScreenSettings['units']): string {
  if (units === 'metric') return says;
  return says.replaceAll(METRIC, (_, figure: string, unit: string) => {
    const kind: QuantityKind = unit === '°C' ? 'celsius' : 'metres';
    return formatQuantity(Number(figure.replace('−', '-')) * (METRES[unit] ?? 1), kind, { units });
  });
}
