import type { HistoryFilter } from '../job/history.ts';
import { fieldsOf } from '../job/plan-of-basis.ts';
import { readJob } from '../job/read-job.ts';
import { readRecords } from '../journal/read.ts';
import { unknownName } from './nearest.ts';

/** Names that records of a job may be asked for by. */
export type Names = Readonly<Record<'step' | 'zone' | 'person' | 'kind', readonly string[]>>;

/** Kinds of records, in the order in which a job meets them. */
export const KINDS: readonly string[] = [
  ...['open', 'basis', 'begin', 'act', 'refused', 'interrupted', 'here', 'correct', 'note', 'photo'],
  ...['clock', 'checkpoint', 'disk-full', 'repair', 'seal'],
];

/** The names that a job knows; of one whose record does not open, as many as can be told. */
export function namesIn(path: string): Names {
  const kinds = new Set(KINDS);
  try {
    for (const { kind } of readRecords(path)) kinds.add(kind);
    const job = readJob(path);
    const persons = Object.entries(job.known.persons).flat();
    const { zones = [] } = fieldsOf(job.basis.survey) as { zones?: readonly { id?: unknown }[] };
    return {
      kind: [...kinds],
      step: job.procedure.steps.map(({ id }) => id),
      zone: zones.map(({ id }) => String(id)),
      person: persons,
    };
  } catch {
    return { kind: [...kinds], step: [], zone: [], person: [] };
  }
}

/**
 * Asked where no record fits: is there such a step, zone, person and kind at all?
 *
 * @throws Ending `usage` with the nearest name where there is none
 */
export function verifyNames(filter: HistoryFilter, paths: readonly string[]): void {
  const all = paths.map(namesIn);
  for (const what of ['kind', 'step', 'zone', 'person'] as const) {
    const typed = filter[what];
    const known = [...new Set(all.flatMap((names) => names[what]))];
    const isKnown = known.some(
      (name) => name.localeCompare(typed ?? '', undefined, { sensitivity: 'accent' }) === 0,
    );
    if (typed !== undefined && !isKnown) throw unknownName(WORDS[what], typed, known);
  }
}

const WORDS = { kind: 'kind of record', step: 'step', zone: 'zone', person: 'person' } as const;
