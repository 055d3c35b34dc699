import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { RecordedValue } from '../../source/job/records.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import { run } from '../commands/run.ts';
import { randomSurvey } from '../random-survey.ts';
import { PROOF, report, scale } from '../scale.ts';
import { type Engine, openDuckDb } from './duckdb.ts';
import { hasty } from './jobs.ts';

const FILE = new URL('../../fixtures/queries/journals.sql', import.meta.url);
/** Jobs in all; each that was carried out is filed under eight names. */
const JOBS = 2_000;
const NAMES = 8;
const FAULTS = ['contact-stuck-open', 'adapter-gives-ac', 'cable-cut', 'weak-battery'] as const;

/** The queries of the file by name, in order. */
const QUERIES = new Map(
  readFileSync(FILE, 'utf8')
    .split(/^-- name: /m)
    .slice(1)
    .map((part) => {
      const [name, ...lines] = part.split('\n');
      return [name!, lines.join('\n')];
    }),
);

type Row = Record<string, unknown>;
type Job = { readonly job: string; readonly records: readonly JournalRecord[] };

/** What each query must answer, worked out from the same journals without an engine. */
const EXPECTED: Readonly<Record<string, (jobs: readonly Job[]) => Row[]>> = {
  'zone-readings': (jobs) =>
    jobs.flatMap(({ job, records }) =>
      records
        .filter(({ data }) => /^(measure|resistors|split)\./.test(String(data.step)))
        .flatMap(({ n, data }) =>
          valuesOf(data)
            .filter(([, value]) => value.kind === 'reading' && value.unit === 'ohm')
            .map(([field, { typed, window, verdict }]) => ({
              job,
              n,
              step: data.step,
              field,
              typed,
              expected_min: inUnits(window?.min),
              expected_max: inUnits(window?.max),
              verdict,
            })),
        ),
    ),
  resistors: (jobs) =>
    rows(jobs, ({ data }) => data.do === 'confirm' && String(data.step).startsWith('resistors.')).map(
      ({ job, record: { n, data } }) => ({ job, n, person: data.by, step: data.step, outcome: data.outcome }),
    ),
  'adapter-first': (jobs) =>
    jobs
      .filter(({ records }) => records.some(isDone))
      .map(({ job, records }) => {
        const first = (is: (step: string) => boolean) =>
          records.find((record) => isDone(record) && is(String(record.data.step)))?.n;
        const [measured, plugged] = [
          first((step) => step.startsWith('prepare.adapter.')),
          first((step) => step === 'power.adapter'),
        ];
        const known = measured !== undefined && plugged !== undefined;
        return { job, measured_first: known ? measured < plugged : null };
      }),
  deviations: (jobs) =>
    rows(jobs, ({ data }) => data.do === 'deviate').map(({ job, record: { n, data } }) => ({
      job,
      n,
      step: data.step,
      reason: data.reason ?? null,
      residual_risk: data.residualRisk ?? null,
    })),
  failures: (jobs) => {
    const failed = rows(jobs, ({ data }) => data.outcome === 'failed').map(({ job, record }) => ({
      job,
      kind: String(record.data.step).match(/^[a-z-]+(\.[a-z-]+)?/)![0],
    }));
    return [...new Set(failed.map(({ kind }) => kind))].map((kind) => {
      const own = failed.filter((one) => one.kind === kind);
      return { kind_of_step: kind, failed: own.length, jobs: new Set(own.map(({ job }) => job)).size };
    });
  },
  unsealed: (jobs) =>
    jobs
      .filter(({ records }) => !records.some(({ kind }) => kind === 'seal'))
      .map(({ job, records }) => ({ job, records: records.at(-1)!.n + 1 })),
};

describe('the query file for thousands of jobs', () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-queries-'));
  const jobs: Job[] = [];

  beforeAll(async () => {
    for (let seed = 0; seed < scale(JOBS / NAMES, 0.03); seed += 1)
      jobs.push(...(await fileJob(folder, seed)));
    // A crash left half a line behind: it is no record.
    const [first] = jobs;
    writeFileSync(join(folder, first!.job, 'journal.jsonl'), '{"at":"2026-05-', { flag: 'a' });
  }, 1_800_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('asks for nothing that a record does not hold', () => {
    const sql = readFileSync(FILE, 'utf8');
    const paths = new Set(
      [...sql.matchAll(/(\w+) ->>? '\$\.([\w.]+)'/g)].map(([, of, path]) => `${of} ${path}`),
    );
    expect(paths.size).toBeGreaterThan(10);
    const held = new Set<string>();
    for (const { data } of jobs.flatMap(({ records }) => records)) {
      for (const key of Object.keys(data)) held.add(`data ${key}`);
      for (const [, value] of valuesOf(data)) {
        for (const key of Object.keys(value)) held.add(`value ${key}`);
        for (const key of Object.keys(value.window ?? {})) held.add(`value window.${key}`);
      }
    }
    for (const path of paths) expect([...held]).toContain(path);
  });

  test('every question has an answer in the generated jobs, and every query one that is worked out', () => {
    const [, , ...asked] = QUERIES.keys();
    expect(asked.sort()).toEqual(Object.keys(EXPECTED).sort());
    for (const [name, answer] of Object.entries(EXPECTED)) expect(answer(jobs), name).not.toEqual([]);
  });

  // Not skipped but not there in an ordinary run: it needs an engine of 70 MB.
  if (PROOF) {
    test('DuckDB answers every query over 2,000 jobs as the journals do', { timeout: 600_000 }, async () => {
      const engine = await openDuckDb();
      try {
        await engine.run(`SET VARIABLE journals = '${folder}/*/journal*.jsonl'`);
        const measured = [];
        for (const [name, sql] of QUERIES) {
          const start = performance.now();
          const answered = await answersOf(engine, sql);
          measured.push({ query: name, rows: answered.length, seconds: (performance.now() - start) / 1000 });
          const expected = EXPECTED[name]?.(jobs);
          if (expected !== undefined)
            expect(sorted(answered, expected[0]!), name).toEqual(sorted(expected, expected[0]!));
        }
        report(`${FILE.pathname.split('/').at(-1)} over ${jobs.length} jobs`, measured);
        expect(jobs).toHaveLength(JOBS);
      } finally {
        engine.closeSync();
      }
    });
  }
});

/** One job under as many names as the proof wants: most closed, some with a fault, some only begun. */
async function fileJob(folder: string, seed: number): Promise<Job[]> {
  const survey = join(folder, `${seed}.yaml`);
  writeFileSync(survey, randomSurvey(seed, { zones: 2 }).text);
  const dir = join(folder, `job-${seed}-0`);
  const fault = seed % 2 === 1 ? ['--fault', FAULTS[((seed - 1) / 2) % FAULTS.length]!] : [];
  const command =
    seed % 5 === 4
      ? ['start', survey, '--job', dir]
      : ['rehearse', survey, '--seed', String(seed), ...fault, '--job', dir];
  const { code, err } = await run(command, { system: hasty });
  if (code !== 0) throw new Error(`Seed ${seed}: ${err}`);
  if (command[0] === 'start') await deviate(dir);
  rmSync(survey);
  const records = [...readRecords(dir)].filter(({ kind }) => kind !== 'basis');
  return Array.from({ length: PROOF ? NAMES : 1 }, (_, name) => {
    const job = `job-${seed}-${name}`;
    if (name > 0) {
      mkdirSync(join(folder, job));
      for (const part of readdirSync(dir).filter((one) => one.endsWith('.jsonl'))) {
        cpSync(join(dir, part), join(folder, job, part));
      }
    }
    return { job, records };
  });
}

/** Begins a job and deviates from the first step that may be deviated from. */
async function deviate(dir: string): Promise<void> {
  const act = (action: object) => run(['act', dir, JSON.stringify(action)], { system: hasty });
  await act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  const { json } = await run(['next', dir, '--json']);
  for (const { id } of (json as { open: { id: string }[] }).open) {
    const action = { do: 'deviate', step: id, reason: 'no time', residualRisk: 'none' };
    if ((await act(action)).code === 0) return;
  }
}

function valuesOf(data: JournalRecord['data']): [string, RecordedValue][] {
  return Object.entries((data.values ?? {}) as unknown as Record<string, RecordedValue>);
}

function rows(jobs: readonly Job[], is: (record: JournalRecord) => boolean) {
  return jobs.flatMap(({ job, records }) => records.filter(is).map((record) => ({ job, record })));
}

function isDone({ data }: JournalRecord): boolean {
  return data.do === 'confirm' && data.outcome !== 'failed';
}

function inUnits(milli: number | null | undefined): number | null {
  return milli === null || milli === undefined ? null : milli / 1000;
}

async function answersOf(engine: Engine, sql: string): Promise<Row[]> {
  return (await engine.runAndReadAll(sql)).getRowObjectsJson();
}

/** Rows as text in one order, by the columns of `like`: the engine gives whole numbers as text. */
function sorted(list: readonly Row[], like: Row): string[] {
  return list
    .map((row) =>
      Object.keys(like)
        .map((column) => String(row[column]))
        .join(' | '),
    )
    .sort();
}
