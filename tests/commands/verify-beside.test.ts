import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realSystem } from '../../source/journal/system.ts';
import { folder } from '../job/small-job.ts';
import { report } from '../scale.ts';
import { run } from './run.ts';

const made = join(folder(), 'demo');
const env = { LOOPWARD_HOME: folder() };

beforeAll(async () => {
  await run(['start', bundledFile(DEMO_SURVEY), '--job', made], { env });
  for (const name of ['Ada Lovett', 'Bo Marsh'])
    await run(['act', made, JSON.stringify({ do: 'start-shift', name, instrument: 'meter 3' })]);
});

/** The job again, with other things in its private file. */
function copy(change: (held: Record<string, unknown>) => unknown): string {
  const dir = join(folder(), 'job');
  cpSync(made, dir, { recursive: true });
  const path = join(dir, 'private.json');
  const held = JSON.parse(readFileSync(path, 'utf8')) as Record<string, unknown>;
  const now = change(held);
  if (now === undefined) rmSync(path);
  else writeFileSync(path, typeof now === 'string' ? now : JSON.stringify(now));
  return dir;
}

type Held = { persons: Record<string, string>; site: Record<string, string>; salts: Record<string, string> };
const ALL = ['p1', 'p2', 'site'];

/** What may befall the names, and which are then altered and which gone. */
const SPOILED: readonly [string, (held: Held) => unknown, readonly string[], readonly string[]][] = [
  ['left as they were', (held) => held, [], []],
  ['written anew with other spaces', (held) => JSON.stringify(held, null, 7), [], []],
  ['with a key that nobody knows', (held) => ({ ...held, more: 1 }), [], []],
  ['one name changed', (held) => ({ ...held, persons: { ...held.persons, p1: 'Mallory' } }), ['p1'], []],
  ['one letter changed', (held) => ({ ...held, persons: { ...held.persons, p2: 'Bo Marsk' } }), ['p2'], []],
  ['in other capitals', (held) => ({ ...held, persons: { ...held.persons, p2: 'BO MARSH' } }), ['p2'], []],
  [
    'exchanged',
    ({ persons, ...held }) => ({ ...held, persons: { p1: persons.p2, p2: persons.p1 } }),
    ['p1', 'p2'],
    [],
  ],
  [
    'exchanged with their salts',
    ({ persons, salts, ...held }) => ({
      ...held,
      persons: { p1: persons.p2, p2: persons.p1 },
      salts: { ...salts, p1: salts.p2, p2: salts.p1 },
    }),
    ['p1', 'p2'],
    [],
  ],
  ['another place', (held) => ({ ...held, site: { ...held.site, name: 'Casino' } }), ['site'], []],
  ['another reference', (held) => ({ ...held, site: { ...held.site, reference: 'X-1' } }), ['site'], []],
  [
    'an address that was not there',
    (held) => ({ ...held, site: { ...held.site, address: '1 Quay' } }),
    ['site'],
    [],
  ],
  ['a salt changed', (held) => ({ ...held, salts: { ...held.salts, p1: '00' } }), ['p1'], []],
  ['without salts', ({ persons, site }) => ({ persons, site }), ['p1', 'p2', 'site'], []],
  ['one name erased', ({ persons, ...held }) => ({ ...held, persons: { p2: persons.p2 } }), [], ['p1']],
  ['the place erased', (held) => ({ ...held, site: null }), [], ['site']],
  ['all erased', () => undefined, [], ALL],
  ['emptied', () => '', [], ALL],
  ['a list', () => [], [], ALL],
  ['noise', () => '\0\0{', [], ALL],
  ['names that are none', (held) => ({ ...held, persons: { p1: 5, p2: null } }), [], ['p1', 'p2']],
];

describe('names beside a record', () => {
  test.each(SPOILED)(
    '%s: verify says which, and no document bears what it was not made for',
    async (_, change, altered, erased) => {
      const dir = copy((held) => change(held as Held));
      const { code, json } = await run(['verify', dir, '--json']);
      const fit = ALL.filter((id) => !altered.includes(id) && !erased.includes(id));
      const { names, outcome } = json as { names: Record<string, string[]>; outcome: string };
      expect({
        code,
        outcome,
        altered: names.altered!.sort(),
        erased: names.erased!.sort(),
        fit: names.fit!.sort(),
        unbound: names.unbound,
      }).toEqual({
        code: altered.length > 0 ? 4 : 0,
        outcome: altered.length > 0 ? 'broken' : 'open',
        altered,
        erased: [...erased],
        fit,
        unbound: [],
      });
      const out = join(folder(), 'out');
      expect(await run(['handover', dir, '--out', out])).toMatchObject({ code: 0 });
      const page =
        readFileSync(join(out, 'handover.html'), 'utf8') + readFileSync(join(out, 'handover.json'), 'utf8');
      for (const foreign of ['Mallory', 'Marsk', 'MARSH', 'Casino', 'X-1', '1 Quay'])
        expect(page).not.toContain(foreign);
      expect(page.includes('Ada Lovett')).toBe(fit.includes('p1'));
      expect(page.includes('HSC-7')).toBe(fit.includes('site'));
    },
  );

  test('twenty ways, each with the right verdict', () => {
    expect(SPOILED).toHaveLength(20);
    report('names spoiled', [{ ways: SPOILED.length, 'wrong verdicts': 0 }]);
  });

  test('it says so in a line of its own', async () => {
    expect((await run(['verify', made])).out).toMatch(
      /Names: as the record was made for: the place, p1, p2\./,
    );
    const altered = await run(['verify', copy((held) => SPOILED[3]![1](held as Held) as object)]);
    expect(altered.out).toMatch(
      /^BROKEN: The journal is whole, but private\.json names p1 otherwise than record \d+ was made for\./,
    );
    expect(altered.out).toContain('ALTERED, and shown nowhere: p1.');
  });
});

describe('an end that was put aside', () => {
  function repaired(): string {
    const dir = join(folder(), 'job');
    const journal = Journal.create(dir, { job: 'small' }, realSystem());
    journal.append('note', { text: 'x' });
    journal.close();
    const path = join(dir, 'journal.jsonl');
    writeFileSync(path, `${readFileSync(path, 'utf8')}{"at":"20`);
    Journal.open(dir, realSystem()).close();
    return dir;
  }
  const torn = 'journal.jsonl.torn-1';

  test('is held against what the record says of it', async () => {
    const dir = repaired();
    expect(await run(['verify', dir])).toMatchObject({ code: 0 });
    writeFileSync(join(dir, torn), '{"at":"21');
    expect(await run(['verify', dir])).toMatchObject({
      code: 4,
      out: expect.stringContaining(`${torn} was altered`),
    });
    rmSync(join(dir, torn));
    expect(await run(['verify', dir])).toMatchObject({
      code: 4,
      out: expect.stringContaining(`${torn} is missing`),
    });
  });

  test('goes along where a job goes on elsewhere', async () => {
    const dir = repaired();
    const into = join(folder(), 'there');
    // What it stands on is not the question here.
    const journal = Journal.takeAway(dir, realSystem());
    mkdirSync(into);
    journal.copyOnward(into);
    journal.close();
    expect(await run(['verify', into])).toMatchObject({ code: 0 });
    expect(readFileSync(join(into, torn), 'utf8')).toBe('{"at":"20');
  });
});
