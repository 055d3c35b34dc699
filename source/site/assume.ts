import { awgConductor } from '../electrical/conductor.ts';

/**
 * What stands in for a fact that nobody has found out yet. Cautious rather than likely where a figure
 * depends on it. Movement detectors: 9-16 V, 10-24 mA on published data pages; the other figures are common
 * practice, no source.
 */
export const STAND_IN = {
  celsius: 20,
  lengthMetres: 30,
  conductor: awgConductor(24),
  standbyAmps: 0.025,
  alarmAmps: 0.035,
  minimumVolts: 9.5,
  maximumVolts: 15,
  warmUpSeconds: 180,
  sounderVolts: 9,
} as const;

/** A value that was written, else its stand-in, which is noted as assumed. */
export type Assume = <T>(about: string, field: string, written: T | 'unknown' | undefined, standIn: T) => T;

/** What was written, or null where nobody knows. */
export function known<T>(written: T | 'unknown' | undefined): T | null {
  return written === undefined || written === 'unknown' ? null : written;
}
