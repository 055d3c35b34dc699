import { sayDifference } from '../job/difference-words.ts';
import { sayValue } from '../job/history-words.ts';
import { timeStamp, windowWords } from './answer-words.ts';
import { resistorsLeft } from './as-left/circuits.ts';
import { connectionsLeft } from './as-left/connections.ts';
import { powerLeft } from './as-left/power.ts';
import type { Collected } from './collect.ts';
import { toCsv } from './csv.ts';
import { RECORD_FIELDS } from './sections/record-fields.ts';
import { type HandoverSource, nameOf } from './sections/source.ts';
import { zoneCard } from './zone-card.tsx';

/** Every value of the record as one row of CSV, in the order of the record. */
export function recordToCsv(source: HandoverSource): string {
  const rows = source.collected.entries.flatMap((entry) => {
    const head = [
      entry.n,
      timeStamp(entry.at, source.collected.timeZone),
      nameOf(source, entry.by),
      entry.stage,
      entry.stepId,
      entry.did,
      entry.outcome,
    ];
    if (entry.answers.length === 0)
      return [[...head, null, null, null, null, null, null, null, entry.reason]];
    return entry.answers.map(({ field, value }) => [
      ...head,
      field,
      value.typed,
      value.milli === null ? (value.open ? 'open' : null) : value.milli / 1000,
      value.unit,
      windowWords(value),
      value.verdict,
      value.at ?? null,
      entry.reason,
    ]);
  });
  const columns = [
    'record',
    'at',
    'by',
    'stage',
    'step',
    'action',
    'outcome',
    'field',
    'typed',
    'value',
    'unit',
    'expected',
    'verdict',
    'met-at',
    'reason',
  ];
  return toCsv(columns, rows);
}

/** The handover's data for programs: `loopward/handover@1`. */
export function recordToJson(source: HandoverSource): object {
  const { collected, plan, verdict } = source;
  const stamp = (at: string) => timeStamp(at, collected.timeZone);
  return {
    format: 'loopward/handover@1',
    job: collected.job,
    rehearsal: collected.rehearsal,
    closed: collected.replay.state.job === 'closed',
    opened: stamp(collected.openedAt),
    lastRecord: stamp(collected.lastAt),
    verify: verdict,
    fields: fieldsOf(source),
    inputs: zoneCard(source),
    heldOut: plan.heldOut,
    ...asLeftOf(source),
    results: resultsOf(source, collected),
    unproved: collected.unproved.map((remark) => ({
      record: remark.n,
      at: stamp(remark.at),
      kind: remark.kind,
      says: remark.text,
    })),
    remarks: collected.remarks.map((remark) => ({
      record: remark.n,
      at: stamp(remark.at),
      by: nameOf(source, remark.by) || null,
      kind: remark.kind,
      says: remark.text,
    })),
  };
}

/** Where every wire and resistor is, what has power, and what is not as planned; nothing where acts were not recorded. */
function asLeftOf(source: HandoverSource) {
  const { plan, left } = source;
  if (left === null) return {};
  const asLeft = {
    wires: connectionsLeft(plan, left).map(({ conductor, colour, to, record }) => ({
      conductor,
      colour,
      to,
      record,
    })),
    resistors: plan.zones.flatMap(({ id: zone }) =>
      resistorsLeft(plan, zone, left).map((one) => ({ zone, ...one })),
    ),
    power: powerLeft(source).map(({ source: from, stands, record }) => ({ source: from, stands, record })),
    differs: left.differs.map((one) => ({ ...one, says: sayDifference(one, left.wiring) })),
  };
  return { asLeft };
}

function fieldsOf(source: HandoverSource) {
  return Object.fromEntries(
    Object.entries(RECORD_FIELDS).map(([group, fields]) => [
      group,
      Object.fromEntries(fields.map((field) => [field.name, field.from(source)])),
    ]),
  );
}

function resultsOf(source: HandoverSource, collected: Collected) {
  return collected.entries.map((entry) => ({
    record: entry.n,
    at: timeStamp(entry.at, collected.timeZone),
    by: nameOf(source, entry.by) || null,
    stage: entry.stage,
    step: entry.stepId,
    title: entry.title,
    action: entry.did,
    outcome: entry.outcome,
    values: Object.fromEntries(
      entry.answers.map(({ field, value }) => [field, { ...value, says: sayValue(value) }]),
    ),
    causes: entry.causes,
    reason: entry.reason,
    residualRisk: entry.residualRisk,
  }));
}
