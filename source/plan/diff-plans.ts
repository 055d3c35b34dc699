import { ampHours, amps, volts } from './findings/words.ts';
import type { Circuit, Connection, Finding, Plan } from './plan.ts';
import { goesWords } from './text/goes-words.ts';
import { resistorWords, windowWords } from './text/words.ts';

/** One thing that a changed survey or board changes in the plan. */
export type PlanChange = {
  readonly of: 'verdict' | 'finding' | 'circuit' | 'connection' | 'supply' | 'parts';
  /** Finding code, input, conductor, board or part. */
  readonly about: string;
  readonly before: string | null;
  readonly after: string | null;
};

/**
 * What differs between two plans, verdict first. `null` on one side: it is not there. Serves `--change` and
 * a correction, which shows it before it is adopted.
 */
export function diffPlans(before: Plan, after: Plan): PlanChange[] {
  return [
    ...changed('verdict', [['verdict', before.verdict]], [['verdict', after.verdict]]),
    ...changed('finding', findingsOf(before), findingsOf(after)),
    ...changed('circuit', circuitsOf(before), circuitsOf(after)),
    ...changed('connection', connectionsOf(before), connectionsOf(after)),
    ...changed('supply', supplyOf(before), supplyOf(after)),
    ...changed('parts', partsOf(before), partsOf(after)),
  ];
}

type Entries = readonly (readonly [about: string, words: string])[];

function changed(of: PlanChange['of'], before: Entries, after: Entries): PlanChange[] {
  const was = new Map(before);
  const is = new Map(after);
  return [...new Set([...was.keys(), ...is.keys()])]
    .filter((about) => was.get(about) !== is.get(about))
    .map((about) => ({ of, about, before: was.get(about) ?? null, after: is.get(about) ?? null }));
}

function findingsOf({ findings }: Plan): Entries {
  // One code may be found about several things: each is known by what it is about.
  return findings.map((finding: Finding) => [
    `${finding.code} ${finding.about[0] ?? ''}`.trim(),
    `${finding.severity}: ${finding.message}`,
  ]);
}

function circuitsOf({ circuits }: Plan): Entries {
  return circuits.map((circuit: Circuit) => [
    `${circuit.board}/${circuit.input}`,
    `${circuit.detectors.join(', ')} of ${circuit.fromZone}, ${windowWords(circuit.rest)} at rest, resistor: ${resistorWords(circuit.resistor)}`,
  ]);
}

function connectionsOf(plan: Plan): Entries {
  return plan.connections.map((connection: Connection) => [
    connection.conductor,
    goesWords(plan, connection),
  ]);
}

function supplyOf({ supply }: Plan): Entries {
  return supply.flatMap(({ board, auxAmps, alarmAmps, battery, devices }) => [
    [`${board} aux`, amps(auxAmps)] as const,
    [`${board} supply`, `${amps(alarmAmps)} in alarm`] as const,
    [`${board} battery`, battery ? `${ampHours(battery.requiredAmpHours)} needed` : 'none'] as const,
    ...devices.map(
      (device) =>
        [
          device.id,
          `${volts(device.mainsVolts)} on mains, ${volts(device.batteryEndVolts)} at battery end`,
        ] as const,
    ),
  ]);
}

function partsOf({ parts }: Plan): Entries {
  return parts.map(({ item, count }) => [item, String(count)]);
}
