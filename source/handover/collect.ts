import { sayRecord } from '../job/history-words.ts';
import type { Private } from '../job/private.ts';
import {
  byOf,
  KINDS,
  type RecordedValue,
  resultOf,
  type StepResult,
  stepOf,
  textOf,
  valueNamed,
} from '../job/records.ts';
import { redactData } from '../job/redact.ts';
import { Replay } from '../job/replay.ts';
import type { JournalRecord } from '../journal/record.ts';
import { lookUp } from '../procedure/lookup.ts';
import type { Proof, Stage, Step, SupplyState } from '../procedure/step.ts';

/** One field of a step with what was asked for it and what the record holds. */
export type Answer = {
  readonly field: string;
  readonly label: string;
  readonly proof: Proof | null;
  readonly value: RecordedValue;
};

/** One result of one step, as the documents tell it. `title` is the step's at that time. */
export type Entry = {
  readonly n: number;
  readonly at: string;
  readonly by: string | null;
  readonly did: StepResult['do'];
  readonly outcome: StepResult['outcome'];
  readonly step: Step | null;
  readonly stepId: string;
  readonly title: string;
  readonly stage: Stage | null;
  /** What the supply was known to be when it was recorded. */
  readonly supply: SupplyState;
  readonly answers: readonly Answer[];
  readonly causes: readonly string[];
  readonly reason: string | null;
  readonly residualRisk: string | null;
};

/** What else the record holds beside results of steps. */
type Remark = {
  readonly n: number;
  readonly at: string;
  readonly by: string | null;
  readonly kind: string;
  readonly did: string | null;
  /** In words, as the history says it. */
  readonly text: string;
  readonly data: JournalRecord['data'];
};

type Reader = {
  readonly nameOf: (person: string) => string;
  readonly titleOf: (step: string) => string;
};

/** The journal read once through, in the order of its numbers. */
export type Collected = {
  readonly job: string;
  readonly openedAt: string;
  readonly lastAt: string;
  readonly timeZone: string;
  /** Version of the program that opened the job. */
  readonly version: string | null;
  readonly rehearsal: Replay['rehearsal'];
  readonly replay: Replay;
  readonly entries: readonly Entry[];
  readonly remarks: readonly Remark[];
  /** What stands behind damage: told, and counted for nothing. */
  readonly unproved: readonly Remark[];
  readonly records: number;
};

/**
 * Reads a job's records for the documents: each result with the step as it was defined at that time, so that a
 * step that a later correction struck still tells its title.
 *
 * @param behind what stands behind damage, asked for once the good records were read
 */
export function collectRecords(
  records: Iterable<JournalRecord>,
  held: Private,
  redact = false,
  behind: () => readonly JournalRecord[] = () => [],
): Collected {
  const replay = new Replay();
  const reader: Reader = {
    nameOf: (person) => replay.names.nameOf(person, held),
    titleOf: (step) => lookUp(replay.procedure).steps.get(step)?.title ?? step,
  };
  const entries: Entry[] = [];
  const remarks: Remark[] = [];
  let timeZone = 'UTC';
  let version: string | null = null;
  let last: JournalRecord | null = null;
  for (const record of records) {
    replay.take(record);
    last = record;
    if (record.kind === 'open') {
      timeZone = textOf(record.data.timeZone) ?? timeZone;
      version ??= textOf(record.data.version);
    }
    const told = redact ? { ...record, data: redactData(record) } : record;
    const result = resultOf(told);
    const id = stepOf(record);
    if (result !== null && id !== null) entries.push(entryOf(id, result, replay, reader.nameOf));
    else if (REMARKED.has(record.kind) || !KINDS.has(record.kind)) remarks.push(remarkOf(told, reader));
  }
  return {
    job: replay.id,
    openedAt: replay.openedAt,
    lastAt: last?.at ?? replay.openedAt,
    timeZone,
    version,
    rehearsal: replay.rehearsal,
    replay,
    entries,
    remarks,
    unproved: behind().map((record) =>
      remarkOf(redact ? { ...record, data: redactData(record) } : record, reader),
    ),
    records: last === null ? 0 : last.n + 1,
  };
}

const REMARKED = new Set([
  'act',
  'refused',
  'interrupted',
  'correct',
  'clock',
  'disk-full',
  'repair',
  'seal',
  'note',
  'photo',
]);

function entryOf(stepId: string, result: StepResult, replay: Replay, nameOf: Reader['nameOf']): Entry {
  const step = lookUp(replay.procedure).steps.get(stepId) ?? null;
  const proofs = new Map(step?.proof.map((proof) => [proof.field, proof]));
  const answers = Object.entries(result.values).map(([field, value]) => {
    const proof = proofs.get(field) ?? null;
    const label = proof === null ? field : proof.label;
    return { field, label, proof, value: valueNamed(value, nameOf) };
  });
  return {
    n: result.n,
    at: result.at,
    by: result.by,
    did: result.do,
    outcome: result.outcome,
    step,
    stepId,
    title: step?.title ?? stepId,
    stage: step?.stage ?? null,
    supply: replay.state.supply,
    answers: inProofOrder(step, answers),
    causes: result.causes,
    reason: result.reason,
    residualRisk: result.residualRisk,
  };
}

// The record sorts its keys; people read the answers in the order they were asked.
function inProofOrder(step: Step | null, answers: Answer[]): Answer[] {
  const order = new Map(step?.proof.map((proof, place) => [proof.field, place]));
  return answers.sort((a, b) => (order.get(a.field) ?? 1e9) - (order.get(b.field) ?? 1e9));
}

function remarkOf(record: JournalRecord, { nameOf, titleOf }: Reader): Remark {
  const step = stepOf(record);
  return {
    n: record.n,
    at: record.at,
    by: byOf(record),
    kind: record.kind,
    did: textOf(record.data.do),
    text: sayRecord({ record, data: record.data, step: step === null ? '' : titleOf(step), nameOf }),
    data: record.data,
  };
}
