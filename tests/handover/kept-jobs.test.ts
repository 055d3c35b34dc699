import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { readJob } from '../../source/job/read-job.ts';
import { verifyJournal } from '../../source/journal/verify.ts';

/**
 * Jobs that earlier versions kept, as they left them. `first-...`: commit afde574, before plans were stored; `second-...`:
 * commit 1db3b41, with plan, acts and how it was left, and three steps given up.
 * Whoever changes how a document looks looks at what differs and takes it over with `vitest -u`; a fact never differs.
 */
const KEPT = join(import.meta.dirname, '../kept-jobs');
const PLAIN = ['handover.txt', 'zone-card.txt', 'labels.csv'];
const folder = mkdtempSync(join(tmpdir(), 'loopward-kept-jobs-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function unpacked(name: string): string {
  const dir = mkdtempSync(join(folder, `${name}-`));
  writeFileSync(join(dir, 'journal.jsonl'), gunzipSync(readFileSync(join(KEPT, name, 'journal.jsonl.gz'))));
  for (const file of ['private.json', 'seal.txt', '.key'])
    if (existsSync(join(KEPT, name, file))) copyFileSync(join(KEPT, name, file), join(dir, file));
  return dir;
}

describe.each(readdirSync(KEPT))('the job %s of an earlier version', (name) => {
  test('prints its documents byte for byte', async () => {
    const papers = composeHandover(readHandoverSource(unpacked(name)), 'a4-65');
    const kept = join(KEPT, name, 'papers');
    for (const file of PLAIN) await expect(papers.get(file)).toMatchFileSnapshot(join(kept, file));
    const sums = [...papers]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([file, text]) => `${digest(file === 'handover.json' ? withoutVerdict(text) : text)}  ${file}\n`);
    await expect(sums.join('')).toMatchFileSnapshot(join(kept, 'SHA256SUMS'));
  });

  test('verifies, and stands where it stood', () => {
    const dir = unpacked(name);
    const sealed = existsSync(join(dir, 'seal.txt'));
    expect(verifyJournal(dir).outcome).toBe(sealed ? 'self-consistent' : 'open');
    const next = readJob(dir).next();
    expect(next.closed).toBe(sealed);
    expect(next.total).toBe(90);
    if (!sealed) expect(next.open.map(({ id }) => id)).toContain('clear.sounder.gable');
  });
});

/** What verifying it finds is told by the present program, in keys that may grow: no fact of the job. */
function withoutVerdict(json: string): string {
  const { verify: _, ...told } = JSON.parse(json) as { verify: unknown };
  return JSON.stringify(told);
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
