import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report, scale } from '../scale.ts';
import { type Acknowledged, bundleWriter, runWriter, scratchFolder } from './programs.ts';
import { PATIENCE, seeded } from './world.ts';

const SEED = 60;
const KILLS = scale(2_000, 0.03);
const LONG_KILLS = scale(500, 0.012);
/** A new journal now and then, so that creation is killed as well and opening stays quick. */
const KILLS_PER_JOURNAL = 20;

const folder = scratchFolder();
let writer = '';
beforeAll(() => {
  writer = bundleWriter(folder);
});

async function killRepeatedly(name: string, kills: number, recordBytes: () => number) {
  const random = seeded(SEED);
  let acknowledgedAll = 0;
  let torn = 0;
  let dir = '';
  let acknowledged: Acknowledged[] = [];
  for (let kill = 0; kill < kills; kill += 1) {
    if (kill % KILLS_PER_JOURNAL === 0) {
      dir = join(folder, `${name}-${kill}`);
      acknowledged = [];
    }
    const after = 1 + Math.floor(random() * 25);
    const { lines, errors } = await runWriter(
      writer,
      ['append', dir, 1_000, recordBytes()],
      (said, child) => {
        if (said.length >= after) child.kill('SIGKILL');
      },
    );
    expect(errors).toBe('');
    acknowledged.push(...lines.map((line) => JSON.parse(line) as Acknowledged));
    acknowledgedAll += lines.length;
    const verdict = verifyJournal(dir);
    expect(['open', 'torn']).toContain(verdict.outcome);
    if (verdict.outcome === 'torn') torn += 1;
    Journal.open(dir, realSystem()).close();
    expect(verifyJournal(dir).outcome).toBe('open');
    const found = new Map<number, string>();
    for (const { n, sha256 } of readRecords(dir)) found.set(n, sha256);
    for (const { n, sha256 } of acknowledged)
      if (found.get(n) !== sha256) expect.fail(`seed ${SEED}, kill ${kill}: record ${n} is lost`);
  }
  report(`SIGKILL of a writer, ${name}`, [
    { kills, acknowledged: acknowledgedAll, lost: 0, torn, mended: torn },
  ]);
}

describe('a writer that is killed', () => {
  test('loses no acknowledged record, and every torn end is mended', PATIENCE, async () => {
    const random = seeded(SEED + 1);
    await killRepeatedly('short', KILLS, () => Math.floor(random() * 900));
  });

  test('with records of 60 KB, which a kill cuts at a page, likewise', PATIENCE, async () => {
    await killRepeatedly('long', LONG_KILLS, () => 60_000);
  });
});
