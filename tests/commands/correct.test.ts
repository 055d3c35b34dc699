import { cpSync, existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Acted, Action, Next } from '../../source/job/action.ts';
import type { Basis } from '../../source/job/basis.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { planCorrection, sayCorrection } from '../../source/job/correct.ts';
import { readHistory } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { planDigest as digestOf } from '../../source/job/plan-digest.ts';
import { readJob } from '../../source/job/read-job.ts';
import { Replay } from '../../source/job/replay.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import { realSystem } from '../../source/journal/system.ts';
import { drive } from '../drive.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const correct = (path: string, value: unknown): Action => ({
  do: 'correct',
  reason: 'seen on site',
  set: [{ path, value }],
});

const made = new Map<string, Promise<string>>();

/** A folder with the demo, worked on until a step is open; made once for each and copied. */
async function demoUntil(step: string | null): Promise<{ dir: string; job: Job; next: Next }> {
  const known = made.get(String(step)) ?? makeDemo(step);
  made.set(String(step), known);
  const dir = join(folder(), 'demo');
  cpSync(await known, dir, { recursive: true });
  const job = Job.open(dir, realSystem(), 'act');
  return { dir, job, next: job.next() };
}

async function makeDemo(step: string | null): Promise<string> {
  const dir = join(folder(), 'demo');
  await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env: { LOOPWARD_HOME: folder() } });
  const job = Job.open(dir, realSystem(), 'act');
  job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
  if (step !== null) {
    const until = (one: Next) => one.open[0]?.id === step;
    const { next } = await drive(job.next(), (action) => job.act(action), { until });
    expect(next.open[0]?.id).toBe(step);
  }
  job.close();
  return dir;
}

function storedBasis(dir: string): Basis {
  const replay = new Replay();
  for (const record of readRecords(dir)) replay.take(record);
  return replay.basis;
}

const outcome = (acted: Acted) => ('outcome' in acted ? acted.outcome : acted);

describe('correcting the survey of a job', () => {
  test('the difference is shown before, and nothing is recorded by looking', async () => {
    const { dir, job } = await demoUntil('measure.z1');
    const before = readFileSync(join(dir, 'journal.jsonl'));
    const lines = job.previewCorrection([{ path: 'zones.z1.loop.resistor', value: '4k7' }]);
    expect(lines.join('\n')).toContain('z1');
    expect(readFileSync(join(dir, 'journal.jsonl')).equals(before)).toBe(true);
    job.close();
  });

  test('that a later version would plan otherwise is said with the difference', async () => {
    const { job } = await demoUntil('measure.z1');
    const { plan, procedure, state } = job;
    const { survey, boards, planDigest, plan: stored } = storedBasis(job.dir);
    const says = (digest: string) => {
      const set = [{ path: 'zones.z1.loop.resistor', value: '4k7' }];
      const made = planCorrection(
        { survey, boards, planDigest: digest, plan: stored, procedure },
        plan,
        state,
        null,
        set,
      );
      if (made.is !== 'correction') throw new Error(made.is);
      return sayCorrection(plan, made.correction, new Set()).join('\n');
    };
    expect(says(planDigest)).not.toContain('program has changed');
    const elsewhere = { ...plan, survey: { ...plan.survey, site: { name: 'Mill', reference: '' } } };
    expect(digestOf(elsewhere)).toBe(planDigest);
    expect(says('of another version')).toContain('program has changed');
    job.close();
  });

  test('another resistor changes the steps it is about, keeps the others, and replays to the same state', async () => {
    const { dir, job, next } = await demoUntil('measure.z1');
    const steps = new Map(job.procedure.steps.map((step) => [step.id, JSON.stringify(step)]));
    const acted = job.act(correct('zones.z1.loop.resistor', '4k7'));
    expect(outcome(acted)).toBe('recorded');
    const changed = job.procedure.steps.filter((step) => steps.get(step.id) !== JSON.stringify(step));
    expect(changed.length).toBeGreaterThan(0);
    expect(changed.length).toBeLessThan(12);
    for (const step of changed) expect(job.state.context.status[step.id]).not.toBe('done');
    const after = job.next();
    expect(after.doneSteps.length).toBeGreaterThan(next.doneSteps.length - changed.length - 1);
    expect(canonicalJson(readJob(dir).state as unknown as Json)).toBe(
      canonicalJson(job.state as unknown as Json),
    );
    expect([...readHistory(dir, { kind: 'correct' })].at(-1)?.data).toMatchObject({
      by: 'p1',
      reason: 'seen on site',
      changes: [{ path: 'zones.z1.loop.resistor', value: '"4k7"' }],
    });
    job.close();
  });

  test('after a correction the job is led to its close', async () => {
    const { job } = await demoUntil('measure.z1');
    job.act(correct('zones.z1.loop.resistor', '4k7'));
    job.act(correct('detectors.loft.importance', 5));
    const { next } = await drive(job.next(), (action) => job.act(action));
    expect(next.closeNeeds).toEqual([]);
    expect(outcome(job.act({ do: 'close', signatures: [{ name: 'Ada', role: 'installer' }] }))).toBe(
      'recorded',
    );
    job.close();
  });

  test('a life-safety circuit can be added, never taken away', async () => {
    const { job } = await demoUntil(null);
    for (const action of [
      correct('detectors.galley-smoke.kind', 'window-contact'),
      correct('outside.lifeSafety', 'none'),
      correct('detectors.galley-smoke.kind', 'unknown'),
    ]) {
      expect(job.act(action)).toHaveProperty('refused');
    }
    expect(outcome(job.act(correct('detectors.hall-glass.kind', 'unknown')))).toBe('recorded');
    expect(job.plan.heldOut.map((one) => one.detector)).toContain('hall-glass');
    // What counted only because nobody knew it is settled by whoever saw what it is.
    const settled = correct('detectors.hall-glass.kind', 'glass-break');
    expect(job.act(settled)).toHaveProperty('refused');
    expect(
      outcome(job.act({ ...settled, seen: 'a glass-break detector beside the hall window' } as Action)),
    ).toBe('recorded');
    expect(job.plan.heldOut.map((one) => one.detector)).not.toContain('hall-glass');
    job.close();
  });

  test('what cannot be read is malformed, with field and what is accepted', async () => {
    const { job } = await demoUntil(null);
    for (const action of [
      correct('zones.z1.loop.resistor', 'lots'),
      correct('zones.z99.loop.resistor', '2k2'),
      correct('cables.c1.from', 'c1'),
      correct('__proto__.x', 1),
      correct('boards.b1.file', 'no-such-board'),
    ]) {
      const acted = job.act(action);
      expect('malformed' in acted && acted.malformed).toMatch(/Accepted/);
    }
    job.close();
  });

  test('after every name has been erased the work goes on, and nothing of it comes back', async () => {
    const { dir, job } = await demoUntil('measure.z1');
    job.close();
    writeFileSync(join(dir, 'private.json.new'), '{"persons":{"p1":"Ada"}}');
    rmSync(join(dir, 'private.json'));
    const again = Job.open(dir, realSystem(), 'act');
    expect(existsSync(join(dir, 'private.json.new'))).toBe(false);
    expect(outcome(again.act({ ...correct('zones.z1.loop.resistor', '4k7'), by: 'p1' }))).toBe('recorded');
    expect(again.plan.survey.site.name).not.toContain('sailing');
    const { next } = await drive(again.next(), (action) => again.act(action));
    expect(next.closeNeeds).toEqual([]);
    expect(again.known.site).toBeNull();
    expect(existsSync(join(dir, 'private.json'))).toBe(false);
    again.close();
  });

  test('a corrected name of the place stays in the private file', async () => {
    const { dir, job } = await demoUntil(null);
    expect(outcome(job.act(correct('site.name', 'Rowing club Weir')))).toBe('recorded');
    expect(readFileSync(join(dir, 'private.json'), 'utf8')).toContain('Weir');
    expect(readFileSync(join(dir, 'journal.jsonl'), 'utf8')).not.toContain('Weir');
    job.close();
  });

  test('a correction that blocks the plan leaves making safe, notes and corrections', async () => {
    const { job } = await demoUntil('measure.z1');
    const acted = job.act(correct('cables.c5.length', '2000 m'));
    expect(outcome(acted)).toBe('recorded');
    expect(job.plan.verdict).toBe('blocked');
    const open = job.next().open.map((step) => step.id);
    expect(open.every((id) => id.startsWith('supply.'))).toBe(true);
    expect(job.act({ do: 'close', signatures: [{ name: 'Ada', role: 'x' }] })).toHaveProperty('refused');
    expect(outcome(job.act({ do: 'note', text: 'called the office' }))).toBe('recorded');
    expect(outcome(job.act(correct('cables.c5.length', '20 m')))).toBe('recorded');
    expect(job.plan.verdict).not.toBe('blocked');
    expect(job.next().open.some((step) => !step.id.startsWith('supply.'))).toBe(true);
    job.close();
  });

  test('pieces of a correction that was never adopted change nothing, and the next one takes its own number', async () => {
    const { dir, job } = await demoUntil(null);
    const state = canonicalJson(job.state as unknown as Json);
    job.close();
    const journal = Journal.open(dir, realSystem());
    journal.append('basis', {
      set: 1,
      part: 'survey',
      piece: 1,
      of: 1,
      text: 'cut short',
      ...journal.stamp(),
    });
    journal.close();
    const again = Job.open(dir, realSystem(), 'act');
    expect(canonicalJson(again.state as unknown as Json)).toBe(state);
    again.act(correct('zones.z1.loop.resistor', '4k7'));
    expect([...readHistory(dir, { kind: 'correct' })].map((entry) => entry.data.set)).toEqual([2]);
    expect(canonicalJson(readJob(dir).state as unknown as Json)).toBe(
      canonicalJson(again.state as unknown as Json),
    );
    again.close();
  });
});
