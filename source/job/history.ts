import type { JsonObject } from '../journal/canonical.ts';
import type { JournalError } from '../journal/error.ts';
import { damageError, type Read, readBeyond } from '../journal/read-beyond.ts';
import type { Step } from '../procedure/step.ts';
import { sayRecord } from './history-words.ts';
import { NameBook } from './name-book.ts';
import { isSameName, readPrivate } from './private.ts';
import { folderOf } from './read-job.ts';
import { byOf, stepOf } from './records.ts';
import { redactData } from './redact.ts';
import { StepsReader } from './steps-reader.ts';

/** Which records are wanted; all that is named must hold. */
export type HistoryFilter = {
  readonly step?: string;
  readonly zone?: string;
  /** `p1` or a name. */
  readonly person?: string;
  readonly kind?: string;
  /** Words that stand in what is shown, capitals or not. */
  readonly find?: string;
  /** Wall clock, milliseconds since 1970. */
  readonly since?: number;
  readonly until?: number;
  /** Leaves names and free words out. */
  readonly redact?: boolean;
};

/** A record as it is shown. */
export type HistoryEntry = {
  readonly n: number;
  readonly at: string;
  readonly kind: string;
  readonly by: string | null;
  /** Name of the person, or the id where it was erased or left out. */
  readonly person: string | null;
  readonly step: string | null;
  readonly says: string;
  /** False for what stands behind damage: the record cannot show that it is as it was written. */
  readonly proved: boolean;
  readonly data: JsonObject;
  /** Digest of the record before it, and its own. */
  readonly prev: string;
  readonly sha256: string;
};

/**
 * The records of a job, one by one as they stand on the disk, filtered. Nothing is held but the steps.
 *
 * What stands behind damage comes last, and is marked as not proved.
 *
 * @param path a job folder, or a `journal.jsonl`
 * @param onDamage told of the damage at the end; without it that is thrown
 * @throws JournalError `missing`, or `broken` after everything else where the record ends in damage
 */
export function* readHistory(
  path: string,
  filter: HistoryFilter = {},
  onDamage?: (error: JournalError) => void,
): Generator<HistoryEntry> {
  const held = filter.redact ? { persons: {}, site: null } : readPrivate(folderOf(path));
  const names = new NameBook();
  const nameOf = (person: string): string => names.nameOf(person, held);
  const steps = new StepsReader();
  const isWanted = wanted(filter);
  const reading = readBeyond(path);
  for (;;) {
    const { done, value } = reading.next();
    if (done) {
      if (value === null) return;
      if (onDamage) return onDamage(damageError(value));
      throw damageError(value);
    }
    const { record, proved } = value;
    if (proved) {
      steps.take(record);
      names.take(record);
    }
    const id = stepOf(record);
    const step = id === null ? undefined : steps.find(id);
    const entry = entryOf(value, step, nameOf, filter.redact === true);
    if (isWanted(entry, step)) yield entry;
  }
}

function entryOf(
  { record, proved }: Read,
  step: Step | undefined,
  nameOf: (person: string) => string,
  redact: boolean,
): HistoryEntry {
  const data = redact ? redactData(record) : record.data;
  const by = byOf(record);
  const id = stepOf(record);
  const says = sayRecord({ record, data, step: (redact ? id : (step?.title ?? id)) ?? '', nameOf });
  return {
    n: record.n,
    at: record.at,
    kind: record.kind,
    by,
    person: by === null ? null : nameOf(by),
    step: id,
    // A title tells of the place; the id alone does not tell more than the plan's numbers.
    says: proved ? says : `NOT PROVED, behind damage: ${says}`,
    proved,
    data,
    prev: record.prev,
    sha256: record.sha256,
  };
}

function wanted(filter: HistoryFilter): (entry: HistoryEntry, step: Step | undefined) => boolean {
  const { step, zone, person, kind, find, since, until } = filter;
  const words = find?.toLocaleLowerCase();
  return (entry, about) =>
    (step === undefined || entry.step === step) &&
    (zone === undefined || about?.about.includes(zone) === true) &&
    (person === undefined || entry.by === person || isSameName(entry.person, person)) &&
    (kind === undefined || entry.kind === kind) &&
    (since === undefined || Date.parse(entry.at) >= since) &&
    (until === undefined || Date.parse(entry.at) <= until) &&
    (words === undefined || searchable(entry).includes(words));
}

/** Only what is shown is searched: a redacted copy must not tell by being found what it leaves out. */
function searchable({ says, step, kind, person, data }: HistoryEntry): string {
  return [says, step, kind, person, JSON.stringify(data)].join('\n').toLocaleLowerCase();
}

/**
 * A time as people write it: a day, or a day and a time, local unless it says otherwise. A day as the end of a
 * stretch means its end.
 *
 * @returns milliseconds since 1970, or null where it is none
 */
export function parseTime(text: string, end: 'since' | 'until'): number | null {
  const isDay = /^\d{4}-\d\d-\d\d$/.test(text);
  const time = Date.parse(isDay ? `${text}T${end === 'since' ? '00:00:00.000' : '23:59:59.999'}` : text);
  return Number.isNaN(time) || !/^\d{4}-\d\d-\d\d/.test(text) ? null : time;
}
