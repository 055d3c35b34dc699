import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Next } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { folder } from '../job/small-job.ts';
import { seeded } from '../journal/world.ts';
import { run } from './run.ts';

const fixtures = resolve(import.meta.dirname, '../../fixtures');
const files = (name: string) => readdirSync(join(fixtures, name)).map((file) => join(fixtures, name, file));
const start = (survey: string, ...more: string[]) => {
  const dir = join(folder(), 'job');
  return {
    dir,
    ran: run(['start', survey, '--job', dir, '--json', ...more], { env: { LOOPWARD_HOME: folder() } }),
  };
};

describe('starting a job', () => {
  test('without --job it stands in the jobs folder under its id, and is found by it', async () => {
    const env = { LOOPWARD_HOME: join(folder(), 'jobs') };
    const { json } = await run(['start', bundledFile(DEMO_SURVEY), '--json'], { env });
    const { id, job } = json as { id: string; job: string };
    expect(job).toBe(join(env.LOOPWARD_HOME, id));
    expect((await run(['next', id, '--json'], { env })).json).toMatchObject({ job: id, person: null });
    expect((await run(['next', id, '--json', '--jobs', env.LOOPWARD_HOME])).json).toMatchObject({ job: id });
  });

  test('a folder that holds something is not touched', async () => {
    const dir = folder();
    writeFileSync(join(dir, 'letter.txt'), 'mine');
    const { code, err } = await run(['start', bundledFile(DEMO_SURVEY), '--job', dir]);
    expect(code).toBe(2);
    expect(err).toContain('holds something');
    expect(readdirSync(dir)).toEqual(['letter.txt']);
  });

  test('an empty folder is taken', async () => {
    const dir = folder();
    expect(
      (await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env: { LOOPWARD_HOME: folder() } }))
        .code,
    ).toBe(0);
    expect(existsSync(join(dir, 'journal.jsonl'))).toBe(true);
  });

  test('boards given go over those of the survey, by file or by the id of one that ships', async () => {
    const { dir, ran } = start(bundledFile(DEMO_SURVEY), '--board', 'twelve-supervised');
    expect((await ran).code).toBe(0);
    const { out } = await run(['history', dir, '--kind', 'basis', '--json']);
    expect(out).toContain('twelve-supervised');
    expect((await start(bundledFile(DEMO_SURVEY), '--board', 'no-such-board').ran).code).toBe(2);
  });

  test.each(files('blocked').map((file) => [basename(file), file]))(
    'a plan that is blocked starts no work: %s exits 3 with the findings and leaves nothing behind',
    async (_, file) => {
      const { dir, ran } = start(file);
      const { code, json, err } = await ran;
      expect(code).toBe(3);
      expect(json).toMatchObject({ refused: expect.any(String), findings: expect.any(Array) });
      const { findings } = json as { findings: { severity: string; message: string }[] };
      expect(findings.length).toBeGreaterThan(0);
      for (const { severity, message } of findings) {
        expect(severity).toBe('block');
        expect(err).toContain(message);
      }
      expect(existsSync(dir)).toBe(false);
      expect(readdirSync(join(dir, '..'))).toEqual([]);
    },
  );

  test.each(files('broken').map((file) => [basename(file), file]))(
    'a broken survey exits 2 with file, line and field: %s',
    async (name, file) => {
      const { dir, ran } = start(file);
      const { code, out, err } = await ran;
      expect(code).toBe(2);
      expect(out).toBe('');
      const { says } = JSON.parse(err) as { says: string };
      const problems = says.split('\n').slice(0, -1);
      expect(problems.length).toBeGreaterThan(0);
      for (const problem of problems) expect(problem).toContain(name);
      if (!/^(empty|not-yaml)/.test(name)) {
        for (const problem of problems) expect(problem).toMatch(/\.yaml:\d+: [\w.-]+: .+ Accepted: .+\.$/);
      }
      expect(existsSync(dir)).toBe(false);
    },
  );

  test('several errors are told at once, each with its line', async () => {
    const { err } = await start(join(fixtures, 'broken/many-at-once.yaml')).ran;
    const lines = [...err.matchAll(/many-at-once\.yaml:(\d+)/g)].map((match) => match[1]);
    expect(new Set(lines).size).toBeGreaterThanOrEqual(4);
  });

  test('five megabytes of noise are refused in a moment', async () => {
    const random = seeded(5);
    const noise = join(folder(), 'noise.yaml');
    writeFileSync(noise, Buffer.from(Array.from({ length: 5_000_000 }, () => Math.floor(random() * 256))));
    const { code, err } = await start(noise).ran;
    expect(code).toBe(2);
    expect(err).toContain('noise.yaml');
    expect(err.length).toBeLessThan(1000);
  });

  test('a folder, a missing file and a survey without a board are wrong use', async () => {
    const bare = join(folder(), 'bare.yaml');
    mkdirSync(join(folder(), 'x'), { recursive: true });
    writeFileSync(bare, 'format: loopward/survey@1\nsite: {name: Shed}\n');
    for (const survey of [folder(), '/no/such/file.yaml']) expect((await start(survey).ran).code).toBe(2);
    expect((await start(bare).ran).code).toBeGreaterThanOrEqual(0);
  });

  test('the outside alone opens a job up to the enclosure, and a correction completes it', async () => {
    const survey = join(folder(), 'outside.yaml');
    writeFileSync(
      survey,
      'format: loopward/survey@1\nsite: {name: Shed}\noutside: {feed: plug-in-transformer, signalling: none, lifeSafety: none}\n',
    );
    const { dir, ran } = start(survey);
    expect(await ran).toMatchObject({ code: 0 });
    const next = (await run(['next', dir, '--json'])).json as Next;
    expect(next.open.length).toBeGreaterThan(0);
    expect(next.closeNeeds.join(' ')).toContain('outside');
  });

  test('the interruption minutes of the settings stand where the survey names none', async () => {
    const home = folder();
    const env = { HOME: home, XDG_CONFIG_HOME: join(home, 'c'), LOOPWARD_HOME: join(home, 'jobs') };
    await run(['settings', 'interruption-minutes', '25'], { env });
    const survey = join(home, 'outside.yaml');
    writeFileSync(survey, 'format: loopward/survey@1\nsite: {name: Shed}\noutside: {feed: dc-adapter}\n');
    await run(['start', survey, '--job', join(home, 'job')], { env });
    const { out } = await run(['history', join(home, 'job'), '--kind', 'open', '--json']);
    expect(out).toContain('"interruptionSeconds":1500');
    await run(['start', bundledFile(DEMO_SURVEY), '--job', join(home, 'demo')], { env });
    const demo = await run(['history', join(home, 'demo'), '--kind', 'open', '--json']);
    expect(demo.out).toContain('"interruptionSeconds":900');
  });
});
