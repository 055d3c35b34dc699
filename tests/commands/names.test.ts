import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { nearest } from '../../source/commands/nearest.ts';
import { COMMANDS } from '../../source/commands/table.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { run } from './run.ts';

const SURVEY = bundledFile(DEMO_SURVEY);
let folder = '';
let dir = '';
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-names-'));
  dir = join(folder, 'club');
  await run(['start', SURVEY, '--job', dir]);
  await run(['act', dir, '{"do":"start-shift","name":"Ada Lovett","instrument":"meter 3"}']);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a name that nothing has is an error, with the nearest one', () => {
  test.each([
    [['hisotry', 'x'], 'history'],
    [['verfy'], 'verify'],
    [['plan', SURVEY, '--explian', 'grouping'], '--explain'],
    [['plan', SURVEY, '--explain', 'groupin'], 'grouping'],
    [['settings', 'unit'], 'units'],
    [['rehearse', SURVEY, '--fault', 'resistor-at-detecter'], 'resistor-at-detector'],
    [['compute', 'baterry'], 'battery'],
    [['HISTORY', '--question', 'reading'], 'readings'],
    [['HISTORY', '--zone', 'z11'], 'z1'],
    [['HISTORY', '--kind', 'atc'], 'act'],
    [['HISTORY', '--step', 'plan.acept'], 'plan.accept'],
    [['HISTORY', '--person', 'Ada Lovet'], 'Ada Lovett'],
    [['ALL', '--kind', 'notte'], 'note'],
    [['HISTORY', '--question', 'readings', '--zone', 'z11'], 'z1'],
  ])('%j: did you mean %s?', async (typed, meant) => {
    const argv = typed.flatMap((word) =>
      word === 'HISTORY'
        ? ['history', dir]
        : word === 'ALL'
          ? ['history', '--all', '--jobs', folder]
          : [word],
    );
    const { code, out, err } = await run(argv);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(`Did you mean ${meant}?`);
  });

  test.each([
    ['--zone', 'loft', 'z1'],
    ['--kind', 'nonsense', 'interrupted'],
    ['--person', 'Zebulon', 'Ada Lovett'],
  ])('where none is near, what there is: %s %s', async (option, typed, there) => {
    const { code, out, err } = await run(['history', dir, option, typed]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(
      `There is no ${option === '--kind' ? 'kind of record' : option.slice(2)} ${typed}.`,
    );
    expect(err).toContain(there);
  });

  test('a name that exists and that no record is about says so, and is no error', async () => {
    for (const asked of [
      ['--kind', 'photo'],
      ['--zone', 'z5'],
      ['--find', 'no such words'],
    ]) {
      const { code, out, err } = await run(['history', dir, ...asked]);
      expect({ code, out, err }).toEqual({ code: 0, out: '', err: 'No record fits what was asked.' });
    }
  });
});

// G. Damerau, "A technique for computer detection and correction of spelling errors" (CACM 7:3, 1964): one letter wrong, missing,
// too many, or two swapped, is four fifths of all that is mistyped.
test('one slip of any kind in any command is found again', () => {
  const names = COMMANDS.map(({ name }) => name);
  for (const name of names)
    for (let at = 0; at < name.length; at++) {
      const slips = [
        name.slice(0, at) + name.slice(at + 1),
        `${name.slice(0, at)}q${name.slice(at)}`,
        `${name.slice(0, at)}q${name.slice(at + 1)}`,
        name.slice(0, at) + (name[at + 1] ?? '') + name[at] + name.slice(at + 2),
      ];
      for (const slip of slips) expect(`${slip}: ${nearest(slip, names)}`).toBe(`${slip}: ${name}`);
    }
  expect(nearest('zzzzzz', names)).toBeNull();
});

describe('help', () => {
  test('is what many type first, and for a command', async () => {
    expect(await run(['help'])).toEqual(await run(['--help']));
    for (const { name } of COMMANDS) expect(await run(['help', name])).toEqual(await run([name, '--help']));
    const { code, err } = await run(['help', 'hisotry']);
    expect(code).toBe(2);
    expect(err).toContain('Did you mean history?');
  });
});

test.each([
  [['next', 'no-such-job'], 2, 'no-such-job'],
  [['plan', '/no/such/file'], 2, '/no/such/file'],
  [['plan'], 2, 'missing required argument'],
  [['plan', 'x', '--nonsense'], 2, '--nonsense'],
  [['nonsense'], 2, 'nonsense'],
  [['start', SURVEY, '--job', '/dev/null/x'], 2, '/dev/null/x'],
])('under --json what went wrong is JSON on standard error: %j', async (argv, exits, says) => {
  const { code, out, err } = await run([...argv, '--json']);
  expect({ code, out }).toEqual({ code: exits, out: '' });
  const told = JSON.parse(err) as { format: string; code: number; says: string };
  expect(told).toMatchObject({ format: 'loopward/error@1', code: exits });
  expect(told.says.toLowerCase()).toContain(says.toLowerCase());
});

test('every question is answered for every job', async () => {
  const { code, out, err } = await run(['history', '--all', '--question', '--jobs', folder]);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(out).toMatch(/^club\n/);
  expect(await run(['history', '--all', '--question', '--jobs', join(folder, 'none')])).toMatchObject({
    code: 2,
  });
});

test('under LANG=C everything is ASCII, and JSON the same document', async () => {
  for (const argv of [
    ['plan', SURVEY],
    ['next', dir],
    ['identify', '--rest', '2k2'],
    ['compute', 'resistor', '--code', '4K7'],
  ]) {
    const { code, out } = await run(argv, { env: { LANG: 'C' } });
    expect(code).toBe(0);
    expect(out).toMatch(/^[\x20-\x7e\n]+$/);
  }
  const plain = await run(['plan', SURVEY, '--json'], { env: { LC_ALL: 'C.UTF-8', LANG: 'C' } });
  const ascii = await run(['plan', SURVEY, '--json'], { env: { LC_ALL: 'POSIX', LANG: 'de_DE.UTF-8' } });
  expect(ascii.out).toMatch(/^[\x20-\x7e]+$/);
  expect(plain.out).not.toMatch(/^[\x20-\x7e]+$/);
  expect(ascii.json).toEqual(plain.json);
});
