import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { PROOF, report } from '../scale.ts';
import { bundleWriter, runWriter, scratchFolder } from './programs.ts';
import { PATIENCE } from './world.ts';

const folder = scratchFolder();
let writer = '';
beforeAll(() => {
  writer = bundleWriter(folder);
});

/** Peak resident memory of a program that verifies a journal of so many records, in MB. */
async function peakMegabytes(records: number): Promise<number> {
  const path = join(folder, `journal-${records}.jsonl`);
  expect((await runWriter(writer, ['make', path, records])).errors).toBe('');
  const { lines, errors } = await runWriter(writer, ['verify', path]);
  expect(errors).toBe('');
  const {
    peak,
    outcome,
    records: found,
  } = JSON.parse(lines[0]!) as { peak: number; outcome: string; records: number };
  expect({ outcome, found }).toEqual({ outcome: 'open', found: records });
  return peak;
}

describe('the memory of a verification', () => {
  const many = PROOF ? 1_000_000 : 40_000;

  test(`is flat from 1,000 records to ${many}`, PATIENCE, async () => {
    const few = await peakMegabytes(1_000);
    const full = await peakMegabytes(many);
    report('peak memory of a verification', [
      { records: 1_000, megabytes: few },
      { records: many, megabytes: full },
    ]);
    // V8's young generation grows to 48 MB (three times 16 MB) before it stays, whatever is read; a journal of a
    // million records is 330 MB, one of 40,000 is 13 MB.
    expect(full - few).toBeLessThan(PROOF ? 56 : 12);
  });
});
