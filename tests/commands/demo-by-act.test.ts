import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Acted, Next } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import type { HistoryEntry } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { readPrivate } from '../../source/job/private.ts';
import { readJob } from '../../source/job/read-job.ts';
import type { RecordedValue } from '../../source/job/records.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { STAGES } from '../../source/procedure/step.ts';
import { driveToClosed } from '../drive.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const dir = join(folder(), 'demo');
const env = { LOOPWARD_HOME: folder() };
let closed: Next;
let answers: Acted[] = [];

beforeAll(async () => {
  const started = await run(['start', bundledFile(DEMO_SURVEY), '--job', dir, '--json'], { env });
  expect(started).toMatchObject({ code: 0, err: '', json: { format: 'loopward/started@1', job: dir } });
  const first = (await run(['next', dir, '--json'])).json as Next;
  await run(['act', dir, '{"do":"note","text":"zanzibar and pepper"}'], { env });
  closed = await driveToClosed(first, async (action) => {
    const ran = await run(['act', dir, JSON.stringify(action), '--json'], { env });
    expect(ran.code).toBe(0);
    answers = [...answers, ran.json as Acted];
    return ran.json as Acted;
  });
});

async function history(...filter: string[]): Promise<HistoryEntry[]> {
  const { json } = await run(['history', dir, '--json', ...filter]);
  return (json as { records: HistoryEntry[] }).records;
}

describe('the demo, driven to closed through next and act alone', () => {
  test('every stage had its steps, and all of them are settled', async () => {
    expect(closed).toMatchObject({ closed: true, supply: 'energised', open: [], closeNeeds: [] });
    expect(closed.done).toBe(closed.total);
    const stages = new Set(readJob(dir).procedure.steps.map((step) => step.stage));
    expect([...stages].sort()).toEqual([...STAGES].sort());
    // A ten-detector job needs at most ninety confirmations.
    expect(closed.total).toBeLessThanOrEqual(90);
  });

  test('the record is whole, sealed, and equal to the head that the last answer gave', async () => {
    const last = answers.at(-1);
    const head = last && 'head' in last ? last.head : undefined;
    expect(head).toMatch(/^\d+:[0-9a-f]{64}$/);
    expect(verifyJournal(dir, { head: head ?? '' }).outcome).toBe('intact');
    expect(verifyJournal(dir).outcome).toBe('self-consistent');
  });

  test('replay gives the same bytes of state as the live run', () => {
    const bytes = canonicalJson(readJob(dir).state as unknown as Json);
    const job = Job.open(dir, realSystem(), 'act');
    expect(canonicalJson(job.state as unknown as Json)).toBe(bytes);
    job.close();
  });

  test('files are for the owner alone; the sealed record is read-only', () => {
    const mode = (file: string) => statSync(join(dir, file)).mode & 0o777;
    expect(mode('')).toBe(0o700);
    expect(mode('private.json')).toBe(0o600);
    expect(mode('journal.jsonl')).toBe(0o400);
  });

  test('names and place stand in the private file and nowhere else', () => {
    const journal = readFileSync(join(dir, 'journal.jsonl'), 'utf8');
    for (const word of ['Lovett', 'Harbour sailing club', 'HSC-7']) {
      expect(journal).not.toContain(word);
      expect(readFileSync(join(dir, 'private.json'), 'utf8')).toContain(word);
    }
  });

  test('whoever a card asks for is known by an id, and told by name only from the private file', async () => {
    const told = await history('--step', 'centre.on-test');
    const { operator } = (told.at(-1)?.data.values ?? {}) as Record<string, RecordedValue>;
    expect(operator).toMatchObject({ typed: 'p2', person: true });
    expect(told.at(-1)?.says).toContain('operator as found');
    expect((await history('--redact', '--step', 'centre.on-test')).at(-1)?.says).toContain('operator p2');
    expect(readPrivate(dir).persons).toMatchObject({ p1: 'Ada Lovett', p2: 'as found' });
    // The usual words name nobody, and stay as they are.
    const shown = (await history('--step', 'handover.user')).at(-1)?.data.values as Record<
      string,
      RecordedValue
    >;
    expect(shown.who?.person).toBeUndefined();
  });

  test('no piece of the basis is longer than 48 KiB', async () => {
    for (const { data } of await history('--kind', 'basis')) {
      expect(Buffer.byteLength(JSON.stringify(data.text))).toBeLessThanOrEqual(48 * 1024);
    }
  });

  test('history filters by zone, step, person, kind, text and time', async () => {
    const all = await history();
    const zone = await history('--zone', 'z1');
    expect(zone.length).toBeGreaterThan(2);
    expect(zone.length).toBeLessThan(all.length / 2);
    expect((await history('--step', 'supply.prove')).map((entry) => entry.step)).toContain('supply.prove');
    expect(await history('--person', 'Ada Lovett')).toEqual(await history('--person', 'p1'));
    expect((await history('--person', 'p2')).length).toBe(0);
    expect((await history('--kind', 'seal')).length).toBe(1);
    expect((await history('--find', 'METER 3')).map((entry) => entry.data.do)).toEqual(['start-shift']);
    expect((await history('--until', '2001-01-01')).length).toBe(0);
    expect((await history('--since', '2001-01-01')).length).toBe(all.length);
    expect((await run(['history', dir, '--since', 'soon'])).code).toBe(2);
  });

  test('a record keeps what was typed, the figure in thousandths, the window and the verdict', async () => {
    const acts = await history('--kind', 'act');
    const values = acts.flatMap((entry) =>
      Object.values((entry.data.values ?? {}) as Record<string, RecordedValue>),
    );
    const readings = values.filter((value) => value.kind === 'reading');
    expect(readings.length).toBeGreaterThan(40);
    for (const { typed, milli, open, unit, window, verdict } of readings) {
      expect(typed).not.toBe('');
      expect(unit).toMatch(/^(ohm|V|A)$/);
      expect(open ? milli === null : Number.isSafeInteger(milli)).toBe(true);
      expect(window).toHaveProperty('usableMax');
      expect(verdict).toMatch(/^(passed|recorded)$/);
    }
    expect(new Set(readings.map((value) => value.verdict))).toEqual(new Set(['passed', 'recorded']));
    const proved = acts.find((entry) => entry.step === 'supply.prove');
    expect(proved?.data.event).toEqual({
      type: 'confirm',
      step: 'supply.prove',
      verdict: 'passed',
      option: null,
    });
  });

  test('a redacted history tells figures and verdicts, and no name, place or free word, even by search', async () => {
    const { out } = await run(['history', dir, '--redact', '--json']);
    const found = ['Lovett', 'Harbour', 'Boat', 'meter 3', 'zanzibar'].filter((word) => out.includes(word));
    expect(found).toEqual([]);
    const values = (await history('--redact')).flatMap((entry) =>
      Object.values((entry.data.values ?? {}) as object),
    );
    expect(values.length).toBeGreaterThan(100);
    expect(new Set(values.filter(({ kind }) => kind === 'text').map(({ typed }) => typed))).toEqual(
      new Set(['(left out)', 'p2']),
    );
    expect(await history('--find', 'Zanzibar')).toHaveLength(1);
    expect(await history('--redact', '--find', 'Zanzibar')).toEqual([]);
  });

  test('a bare journal file can be read too', async () => {
    const { code, json } = await run(['history', join(dir, 'journal.jsonl'), '--json', '--kind', 'open']);
    expect(code).toBe(0);
    expect((json as { records: unknown[] }).records).toHaveLength(1);
  });

  test('it stands in the ledger as opened and as sealed', async () => {
    const { readLedger } = await import('../../source/journal/ledger.ts');
    const kinds = [...readLedger(join(env.LOOPWARD_HOME, '.ledger'))].map((entry) => entry.kind);
    expect(kinds).toEqual(['opened', 'sealed']);
  });
});

describe('the demo without a terminal', () => {
  test('shows the plan, a rehearsed changeover with its fault found, and the way on', async () => {
    const { code, out, err } = await run(['demo']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const words of ['HELD OUT', 'rehearsed', 'carried out to its end', 'found at', 'loopward start']) {
      expect(out).toContain(words);
    }
    const wide = out.split('\n').filter((line) => [...line].length > 80 && !line.includes('sailing-club'));
    expect(wide).toEqual([]);
  });

  test('--json is the plan and nothing else', async () => {
    expect(await run(['demo', '--json'])).toMatchObject({ code: 0, json: { format: 'loopward/plan@1' } });
  });
});
