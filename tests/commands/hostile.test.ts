import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse, stringify } from 'yaml';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realSystem } from '../../source/journal/system.ts';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { runPlain } from '../../source/screens/plain/run.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { asciiJson, shownRow, shownText } from '../../source/screens/terminal/shown-text.ts';
import { appOf, keys, picture } from '../screens/drive.ts';
import { run } from './run.ts';

/** The window's title, the clipboard, the screen wiped, an eight-bit sequence, a turned text, a line of its own. */
const HOSTILE = [
  '\x1b]0;taken\x07',
  '\x1b]52;c;dGFrZW4=\x1b\\',
  '\x1b[2J\x1b[H',
  '\x9b31m',
  '\u202egnp.x',
  '\u2066',
  '\nFORGED',
  '\rFORGED',
];
const ATTACK = HOSTILE.join('x');
/** What no terminal may get of it: controls but the ends of lines, and marks of direction. */
const ORDERS = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/;

const system = realSystem();
let folder = '';
let dir = '';
let survey = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-hostile-'));
  dir = join(folder, 'job');
  survey = join(folder, 'survey.yaml');
  writeFileSync(survey, stringify(spoiled(parse(readFileSync(bundledFile(DEMO_SURVEY), 'utf8')))));
  const started = await run(['start', bundledFile(DEMO_SURVEY), '--job', dir]);
  expect(started.err).toBe('');
  forge();
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The survey with the attack in every field that takes any text. */
function spoiled(written: Record<string, unknown>): unknown {
  const free = new Set([
    'name',
    'reference',
    'address',
    'contact',
    'notes',
    'note',
    'label',
    'says',
    'place',
  ]);
  const walk = (value: unknown, field: string): unknown => {
    if (typeof value === 'string') return free.has(field) ? value + ATTACK : value;
    if (Array.isArray(value)) return value.map((one) => walk(one, field));
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([key, held]) => [key, walk(held, key)]));
  };
  return walk(written, '');
}

/** Records that no program of ours would write, in a chain that is whole. */
function forge(): void {
  const journal = Journal.open(dir, system);
  const photo = { path: `attachments/${ATTACK}.png`, bytes: 3, sha256: 'f'.repeat(64) };
  journal.append('note', { text: ATTACK, by: 'p1', step: null });
  journal.append('photo', { ...photo, by: 'p1', says: ATTACK, step: null });
  journal.append('refused', { do: ATTACK, by: ATTACK, refused: ATTACK, because: [ATTACK], step: ATTACK });
  journal.close();
  const held = JSON.parse(readFileSync(join(dir, 'private.json'), 'utf8'));
  const persons = { p1: `Ada ${ATTACK}` };
  const site = { ...held.site, name: `Club ${ATTACK}`, address: ATTACK, reference: ATTACK };
  writeFileSync(join(dir, 'private.json'), JSON.stringify({ persons, site }));
}

function expectHarmless(text: string, what: string): void {
  expect(ORDERS.exec(text)?.[0], `${what}: ${JSON.stringify(text.slice(0, 4000))}`).toBeUndefined();
  expect(/^FORGED/m.test(text), `a line of its own in ${what}:\n${text.slice(0, 4000)}`).toBe(false);
}

describe('text that orders a terminal about, in every field', () => {
  test.each([
    ['plan', () => ['plan', survey]],
    ['labels', () => ['labels', survey]],
    ['next', () => ['next', dir]],
    ['next, as JSON', () => ['next', dir, '--json']],
    ['history', () => ['history', dir]],
    ['history, as JSON', () => ['history', dir, '--json']],
    ['history of all', () => ['history', '--all', '--jobs', folder]],
    ['questions', () => ['history', dir, '--question']],
    ['verify', () => ['verify', dir]],
    ['verify, as JSON', () => ['verify', dir, '--json']],
    ['handover', () => ['handover', dir, '--out', join(folder, 'papers')]],
    ['inputs', () => ['inputs', dir]],
    ['act', () => ['act', dir, '{"do":"start-shift","name":"Ada","instrument":"meter 3"}']],
    ['a job of that name', () => ['next', ATTACK]],
    ['a file of that name', () => ['plan', ATTACK]],
    ['a command of that name', () => [ATTACK]],
    ['an option of that name', () => ['plan', `--${ATTACK}`]],
    ['a setting of that name', () => ['settings', ATTACK]],
    ['a question of that name', () => ['history', dir, '--question', ATTACK]],
    ['a board of that name', () => ['plan', bundledFile(DEMO_SURVEY), '--board', ATTACK]],
    ['a fault of that name', () => ['rehearse', bundledFile(DEMO_SURVEY), '--fault', ATTACK]],
    ['a quantity', () => ['compute', 'wire', '--conductor', ATTACK, '--length', ATTACK]],
    ['a head', () => ['verify', dir, '--head', ATTACK]],
    ['words to find', () => ['history', dir, '--find', ATTACK]],
    ['an action', () => ['act', dir, JSON.stringify({ do: ATTACK, step: ATTACK })]],
    ['a photograph', () => ['act', dir, JSON.stringify({ do: 'photo', path: ATTACK })]],
  ])('%s', async (what, argv) => {
    const { out, err } = await run(argv());
    expect(out + err).toMatch(/\w/);
    expectHarmless(`${out}\n${err}`, what);
  });

  test.each([
    ['a key', { [`zones${ATTACK}`]: [] }],
    ['an id', { zones: [{ id: ATTACK, detectors: [ATTACK], style: ATTACK }] }],
    ['a unit', { cables: [{ id: 'c1', length: `3 ${ATTACK}`, conductor: ATTACK }] }],
    ['a board', { boards: [ATTACK] }],
    ['every name', {}],
  ])('a survey that is wrong in %s', async (what, change) => {
    const file = join(folder, 'wrong.yaml');
    const good = parse(readFileSync(bundledFile(DEMO_SURVEY), 'utf8'));
    const isWhole = Object.keys(change).length === 0;
    writeFileSync(file, isWhole ? readFileSync(survey) : stringify({ ...good, ...change }));
    const { out, err, code } = await run(['plan', file]);
    expect(code).toBe(2);
    expectHarmless(`${out}\n${err}`, what);
  });

  test.each(['unicode', 'ascii'] as const)('on every screen, %s', (glyphs) => {
    const shelf = shelfOf(folder, system);
    const app = { ...appOf({ columns: 80, rows: 24 }, { glyphs }), jobs: shelf.list(ALL_JOBS) };
    const store = createStore(app, { shelf, saveSettings: () => {} });
    const look = (what: string) => expectHarmless(picture(store), what);
    const press = (...labels: readonly string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
    };
    look('jobs');
    store.dispatch({ type: 'picked', value: `job ${dir}` });
    look('briefing');
    press('enter');
    look('who is working');
    press('1', 'enter', '1', 'enter', '0', '.', '3', 'enter');
    look('a step');
    for (const [key, what] of [
      ['p', 'plan'],
      ['h', 'record'],
      ['s', 'steps'],
      ['f', 'far'],
      ['n', 'note'],
      ['right', 'menu'],
    ] as const) {
      press(key);
      look(what);
      press('page-down');
      look(`${what}, next page`);
      press('enter');
      look(`${what}, opened`);
      press('escape', 'escape');
    }
    store.close();
  });

  test('line by line', async () => {
    const said: string[] = [];
    const port = shelfOf(folder, system).open(dir);
    if (typeof port === 'string') throw new Error(port);
    const lines = ['1', '1', '0.3', '/history', '/steps', '/quit'];
    await runPlain(port, {
      say: (line) => said.push(line),
      hear: async () => lines.shift() ?? null,
    });
    port.close();
    expect(said.length).toBeGreaterThan(10);
    for (const line of said) expectHarmless(line, 'plain mode');
  });
});

test('what is spelled is JSON still, and what says something stays', () => {
  const document = { text: `${ATTACK} é Ω 家` };
  const without = { text: document.text.replaceAll('\t', ' ') };
  expect(JSON.parse(shownText(JSON.stringify(document)))).toEqual(without);
  expect(JSON.parse(asciiJson(shownText(JSON.stringify(document))))).toEqual(without);
  expect(asciiJson(JSON.stringify(document))).toMatch(/^[\x20-\x7e]*$/);
  expect(shownText('a\nb é Ω 家 “x” – …')).toBe('a\nb é Ω 家 “x” – …');
  expect(shownText('a,b\r\nc,d\r\n')).toBe('a,b\r\nc,d\r\n');
  expect(shownText('a\rFORGED')).toBe('a\\u000dFORGED');
  expect(shownRow('a\nb')).toBe('a\\u000ab');
});
