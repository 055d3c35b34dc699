import { execFileSync } from 'node:child_process';
import { closeSync, fsyncSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import { formatRecord, NO_DIGEST } from '../../source/journal/record.ts';
import { realSystem, type System } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { drive } from '../drive.ts';
import type { Bench } from './bench.ts';

const folder = mkdtempSync(join(tmpdir(), 'loopward-bench-'));
process.once('exit', () => rmSync(folder, { recursive: true, force: true }));

/** What an action leaves: a reading with its window, about 330 bytes in all. */
const reading = {
  between: ['old:8', 'old:9'],
  milliohms: 2_204_000,
  step: 'measure.z1',
  typed: '2.204 kohm',
  verdict: 'passed',
  window: { maximum: 2_312_000, minimum: 2_156_000 },
};

/** A journal of so many records, written at once: only its reading is measured. */
function journalOf(records: number): string {
  const path = join(folder, `${records}.jsonl`);
  const file = openSync(path, 'w', 0o600);
  let prev = NO_DIGEST;
  let chunk: Buffer[] = [];
  for (let n = 0; n < records; n += 1) {
    const { bytes, record } = formatRecord({
      at: new Date(1_780_000_000_000 + n * 40_000).toISOString(),
      data: n === 0 ? { job: 'hsc-7' } : reading,
      kind: n === 0 ? 'open' : 'act',
      mono: n * 40_000,
      n,
      prev,
    });
    prev = record.sha256;
    chunk.push(bytes);
    if (chunk.length === 1_000 || n === records - 1) {
      const all = Buffer.concat(chunk);
      for (let done = 0; done < all.length; ) done += writeSync(file, all, done);
      chunk = [];
    }
  }
  closeSync(file);
  return path;
}

const long = journalOf(100_000);
const journal = Journal.create(join(folder, 'job'), { job: 'hsc-7' }, realSystem());
const bare = openSync(join(folder, 'bare'), 'a', 0o600);
const line = formatRecord({
  at: new Date().toISOString(),
  data: reading,
  kind: 'act',
  mono: 1,
  n: 1,
  prev: NO_DIGEST,
}).bytes;

/** A disk that confirms nothing: only what comes after is measured. */
function hastySystem(): System {
  const real = realSystem();
  return { ...real, files: { ...real.files, fsync: () => undefined } };
}

/** The demo job, worked at up to the walk test, and then worked over again and again up to so many records. */
async function longJob(records: number): Promise<string> {
  const dir = join(folder, 'long-job');
  const system = hastySystem();
  const surveyFile = 'fixtures/sailing-club/survey.yaml';
  const surveyText = readFileSync(surveyFile, 'utf8');
  const boardText = readFileSync('fixtures/boards/eight-paired.yaml', 'utf8');
  const boards = [{ id: 'b1', file: 'eight-paired.yaml', text: boardText }];
  const job = createJob({ surveyText, surveyFile, boards, dir, system });
  if (!(job instanceof Job)) throw new Error('The demo is blocked.');
  job.act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  await drive(job.next(), (action) => job.act(action), { until: ({ stage }) => stage === 'walk-test' });
  job.close();
  const again = [...readRecords(dir)].filter(({ kind }) => kind === 'act');
  const journal = Journal.open(dir, system);
  for (let i = 0; journal.head.count < records; i += 1) {
    const { kind, data } = again[i % again.length]!;
    journal.append(kind, data);
  }
  journal.close();
  return dir;
}

const worked = await longJob(10_000);

const sha256sum = { name: 'sha256sum', run: () => execFileSync('sha256sum', [long]) };

export const benches: readonly Bench[] = [
  {
    name: 'append one record',
    target: { ratio: 1.3 },
    baseline: {
      name: 'bare write and fsync',
      run: () => {
        writeSync(bare, line);
        fsyncSync(bare);
      },
    },
    subject: { name: 'append', run: () => journal.append('act', reading) },
  },
  {
    name: 'quick verification of 100,000 records',
    target: { ratio: 1.5 },
    baseline: sha256sum,
    subject: { name: 'quick', run: () => verifyJournal(long, { full: false }) },
  },
  {
    name: 'full verification of 100,000 records',
    target: { ratio: 5 },
    baseline: sha256sum,
    subject: { name: 'full', run: () => verifyJournal(long) },
  },
  {
    name: 'opening a job of 10,000 records',
    target: { ratio: 4 },
    baseline: { name: 'its full verification', run: () => verifyJournal(worked) },
    subject: { name: 'open', run: () => Job.open(worked, realSystem(), 'act').close() },
  },
];
