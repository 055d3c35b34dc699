import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawn } from '@lydell/node-pty';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { parseAction } from '../../source/job/parse-action.ts';
import { talk } from '../packaging/installed.ts';
import { runShipped, shipped } from '../shipped.ts';

const SURVEY = bundledFile(DEMO_SURVEY);
const scratch = mkdtempSync(join(tmpdir(), 'loopward-around-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));
let home = '';
beforeEach(() => {
  home = mkdtempSync(join(scratch, 'home-'));
});

describe('what the computer stands in the way of is told in a sentence, and is no defect', () => {
  test.each([
    [
      'a name of 250 characters and more',
      () => ['start', SURVEY, '--job', join(home, 'a'.repeat(260))],
      {},
      3,
    ],
    ['a home that is a file', () => ['settings', 'units', 'imperial'], { HOME: '/dev/null' }, 3],
    ['a jobs folder that is a file', () => ['start', SURVEY], { LOOPWARD_HOME: '/etc/passwd' }, 2],
    ['a survey that never ends', () => ['plan', '/dev/zero'], {}, 2],
    ['a survey that is a folder', () => ['plan', '/tmp'], {}, 2],
    ['a change that never ends', () => ['plan', SURVEY, '--change', '/dev/zero'], {}, 2],
  ])('%s', (_, argv, env, expected) => {
    const { code, out, err } = runShipped(argv(), { home, env });
    expect(err).not.toContain('defect');
    expect(err).toMatch(/^\S.*\. .*\./s);
    expect({ code, out }).toEqual({ code: expected, out: '' });
  });

  test('too much is told by the same measure wherever it is met', () => {
    const large = join(home, 'large.yaml');
    writeFileSync(large, `format: loopward/survey@1\n# ${'x'.repeat(1_100_000)}\n`);
    const told = ['/dev/zero', large].map((file) => runShipped(['plan', file], { home }).err);
    for (const says of told) expect(says).toContain('at most 1 MB');
  });

  test('an empty HOME is none: nothing is kept where one happens to stand', () => {
    const { code, out } = runShipped(['settings', '--json'], { home: '', env: { HOME: '' } });
    expect(code).toBe(0);
    const { file, settings } = JSON.parse(out) as {
      file: string;
      settings: { name: string; value: string }[];
    };
    expect(file).toMatch(/^(\/|[A-Z]:)/);
    expect(settings.find(({ name }) => name === 'jobs-folder')?.value).toMatch(/^(\/|[A-Z]:)/);
  });
});

// tz database, file etcetera: Etc/GMT+2 is two hours behind UTC, as POSIX writes it.
test.each([
  ['UTC+2', 'Etc/GMT+2'],
  ['XYZ-3', 'Etc/GMT-3'],
  ['localtime', 'UTC'],
  ['Europe/Lisbon', 'Europe/Lisbon'],
])('a job begins in the zone %s', (zone, kept) => {
  const dir = join(home, 'job');
  expect(runShipped(['start', SURVEY, '--job', dir], { home, env: { TZ: zone } })).toMatchObject({
    code: 0,
    err: '',
  });
  const [first = ''] = readFileSync(join(dir, 'journal.jsonl'), 'utf8').split('\n');
  expect(JSON.parse(first).data.timeZone).toBe(kept);
  const papers = runShipped(['handover', dir, '--out', join(home, 'papers')], { home, env: { TZ: zone } });
  expect(papers).toMatchObject({ code: 0, err: '' });
});

test('a survey comes from standard input by the name -', () => {
  const { code, out } = runShipped(['plan', '-'], { home, input: readFileSync(SURVEY, 'utf8') });
  expect(code).toBe(0);
  expect(out).toContain('Harbour sailing club');
});

test('a card of a thousand values is taken', () => {
  const values = Object.fromEntries(Array.from({ length: 1000 }, (_, at) => [`field-${at}`, '1']));
  expect(parseAction({ do: 'confirm', step: 'x', values })).toMatchObject({ ok: true });
});

describe('in a terminal', () => {
  test('that is dumb, nothing orders it: the job goes line by line, everything else says how', async () => {
    const env = { HOME: home, PATH: process.env.PATH ?? '', TERM: 'dumb', LOOPWARD_HOME: join(home, 'jobs') };
    const start = (args: readonly string[], turns: readonly (readonly [string, string])[]) =>
      talk(process.execPath, [shipped(), ...args], turns, { cwd: home, env }, 'dumb');
    const demo = await start(['demo'], [['Type /help', '/quit\r']]);
    expect(demo.code).toBe(0);
    expect(demo.raw).not.toMatch(/\x1b/);
    const jobs = await start([], []);
    expect(jobs).toMatchObject({ code: 2 });
    expect(jobs.raw).not.toMatch(/\x1b/);
    expect(jobs.text).toContain('--plain');
  });

  test('that is closed, the program ends with it: by no abort, and nothing is lost', async () => {
    const jobs = join(home, 'jobs');
    const env = { HOME: home, PATH: process.env.PATH ?? '', TERM: 'xterm-256color', LOOPWARD_HOME: jobs };
    const terminal = spawn(process.execPath, [shipped(), 'demo'], { cols: 80, rows: 24, cwd: home, env });
    const ended = new Promise<number | undefined>((done) => terminal.onExit(({ signal }) => done(signal)));
    await new Promise<void>((seen) => {
      let text = '';
      terminal.onData((data) => {
        text += data;
        if (text.includes('where the job stands')) seen();
      });
    });
    (terminal as unknown as { destroy(): void }).destroy();
    // SIGHUP, as every program that its terminal takes with it.
    expect(await ended).toBe(1);
    const next = runShipped(['act', join(jobs, 'demo'), '{"do":"doubt"}'], { home, env });
    expect(next.err).toBe('');
    expect(readdirSync(join(jobs, 'demo'))).toContain('journal.jsonl');
  });
});
