import { execFileSync } from 'node:child_process';
import { closeSync, fsyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Journal } from '../../source/journal/journal.ts';
import { formatRecord, NO_DIGEST } from '../../source/journal/record.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
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
];
