import { FINDING_CODES } from '../finding-codes.ts';
import type { Finding, Severity } from '../plan.ts';
import { batteryFindings } from './battery.ts';
import type { Facts } from './facts.ts';
import { inputFindings } from './inputs.ts';
import { lifeSafetyFindings } from './life-safety.ts';
import { loopFindings } from './loops.ts';
import { returnFindings } from './returns.ts';
import { screwFindings } from './screws.ts';
import { siteFindings } from './site.ts';
import { sounderFindings } from './sounders.ts';
import { supplyFindings } from './supply.ts';

const FAMILIES = [
  siteFindings,
  lifeSafetyFindings,
  inputFindings,
  returnFindings,
  supplyFindings,
  batteryFindings,
  sounderFindings,
  loopFindings,
  screwFindings,
];
export const SEVERITIES: readonly Severity[] = ['block', 'gate', 'caution', 'note'];

/** Everything that must be known before somebody opens the enclosure, most severe first. */
export function computeFindings(facts: Facts): Finding[] {
  const all = FAMILIES.flatMap((family) => family(facts));
  const rank = ({ severity, code }: Finding) =>
    SEVERITIES.indexOf(severity) * FINDING_CODES.length + FINDING_CODES.indexOf(code);
  return all.sort((a, b) => rank(a) - rank(b));
}
