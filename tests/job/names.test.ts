import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { NameBook } from '../../source/job/name-book.ts';
import { readPrivate } from '../../source/job/private.ts';
import { readJob } from '../../source/job/read-job.ts';
import { readRecords } from '../../source/journal/read.ts';
import { killEverywhere, program } from '../commands/killed-calls.ts';
import { report } from '../scale.ts';
import { smallJob } from './small-job.ts';

const shift = (name: string) => ({ do: 'start-shift', name, instrument: 'meter 3' });
const actIn = (dir: string, system: Parameters<typeof Job.open>[1], ...actions: unknown[]) => {
  const job = Job.open(dir, system, 'act');
  const acted = actions.map((action) => job.act(action));
  job.close();
  return acted;
};
/** Who stands in the record for whom, as the history tells it. */
const workers = (dir: string) =>
  [...readHistory(dir)]
    .filter(({ kind, data }) => kind === 'act' && data.do === 'start-shift')
    .map(({ person }) => person);
const fresh = () => {
  const small = smallJob();
  small.job.close();
  return small.dir;
};
const edit = (dir: string, change: (held: Record<string, Record<string, string>>) => unknown) => {
  const path = join(dir, 'private.json');
  const held = JSON.parse(readFileSync(path, 'utf8')) as Record<string, Record<string, string>>;
  change(held);
  writeFileSync(path, JSON.stringify(held));
};

describe('a name and the record', () => {
  test('killed at any call of a shift, the next person never stands under the first one’s name', async () => {
    let waiting = 0;
    const kills = await killEverywhere(
      fresh,
      (system, dir) => actIn(dir, system, shift('Ada Lovett')),
      (dir, at) => {
        const said = workers(dir).length;
        if (said === 0 && Object.keys(readPrivate(dir).persons).length > 0) waiting += 1;
        actIn(dir, program().system, shift('Bo Marsh'), { do: 'note', text: 'Bo was here' });
        const notes = [...readHistory(dir)].filter(({ kind }) => kind === 'note');
        expect({ at, workers: workers(dir), by: notes.map(({ person }) => person) }).toEqual({
          at,
          workers: [...Array(said).fill('Ada Lovett'), 'Bo Marsh'],
          by: ['Bo Marsh'],
        });
      },
    );
    expect(waiting).toBeGreaterThan(0);
    report('a shift killed at every call, then another person', [
      { kills, waiting, 'under the wrong name': 0 },
    ]);
  });

  test('killed and done again by the same person it is the same id, and one name is kept', async () => {
    await killEverywhere(
      fresh,
      (system, dir) => actIn(dir, system, shift('Ada Lovett')),
      (dir) => {
        actIn(dir, program().system, shift('Ada Lovett'));
        expect(new Set(workers(dir))).toEqual(new Set(['Ada Lovett']));
        expect(readPrivate(dir).persons).toEqual({ p1: 'Ada Lovett' });
      },
    );
  });

  test('what is held in the place of a name can be checked by hand, and tells nothing without the salt', () => {
    const dir = fresh();
    actIn(dir, program().system, shift('Ada Lovett'));
    const record = [...readRecords(dir)].find(({ data }) => data.do === 'start-shift')!;
    const { salts } = readPrivate(dir);
    const text = `{"id":"p1","salt":"${salts?.p1}","value":"Ada Lovett"}`;
    const byHand = execFileSync('sha256sum', { input: text, encoding: 'utf8' }).slice(0, 64);
    expect(record.data.names).toEqual({ p1: byHand });
    expect(salts?.p1).toMatch(/^[0-9a-f]{32}$/);
    expect(readFileSync(join(dir, 'journal.jsonl'), 'utf8')).not.toContain(salts!.p1);
  });

  test.each<[string, (held: Record<string, Record<string, string>>) => unknown]>([
    ['changed', (held) => Object.assign(held.persons!, { p1: 'Mallory' })],
    ['exchanged', ({ persons }) => Object.assign(persons!, { p1: persons!.p2, p2: persons!.p1 })],
    [
      'changed with a salt of one’s own',
      (held) => Object.assign(held, { persons: { p1: 'Mallory' }, salts: { p1: '00' } }),
    ],
    ['without its salt', (held) => delete held.salts],
  ])('%s beside the record, is shown nowhere', (_, change) => {
    const dir = fresh();
    actIn(dir, program().system, shift('Ada Lovett'), shift('Bo Marsh'));
    expect(workers(dir)).toEqual(['Ada Lovett', 'Bo Marsh']);
    edit(dir, change);
    expect(workers(dir)[0]).toBe('p1');
    expect(readJob(dir).nameOf('p1')).toBe('p1');
    expect(Object.values(readJob(dir).known.persons)).not.toContain('Mallory');
    expect([...readHistory(dir, { person: 'Mallory' })]).toEqual([]);
    // Whoever comes under that name is somebody else, and nobody loses theirs by it.
    actIn(dir, program().system, shift('Mallory'));
    expect(workers(dir).at(-1)).toBe('Mallory');
    expect(workers(dir)[0]).toBe('p1');
  });

  test('erased it is gone, the record stays whole, and the next new person takes a new id', () => {
    const dir = fresh();
    actIn(dir, program().system, shift('Ada Lovett'));
    rmSync(join(dir, 'private.json'));
    actIn(dir, program().system, shift('Bo Marsh'));
    expect(workers(dir)).toEqual(['p1', 'Bo Marsh']);
  });

  test('names of records that damage hides are not written over', () => {
    const dir = fresh();
    writeHeld(dir, { persons: { p1: 'Ada', p7: 'Cy' }, site: null });
    actIn(dir, program().system, shift('Bo Marsh'));
    expect(readPrivate(dir).persons).toEqual({ p1: 'Ada', p7: 'Cy', p8: 'Bo Marsh' });
  });
});

function writeHeld(dir: string, held: object): void {
  writeFileSync(join(dir, 'private.json'), JSON.stringify(held));
}

describe('a job from before names were bound', () => {
  /** As the version before wrote it: no record holds anything of a name. */
  function old(): string {
    const small = smallJob();
    small.job.close();
    const { dir } = small;
    actIn(dir, program().system, shift('Ada Lovett'));
    const replayed = [...readRecords(dir)];
    const fixture = fresh();
    const job = Job.open(fixture, program().system, 'act');
    const bare = replayed.find(({ data }) => data.do === 'start-shift')!.data;
    const { names: _, ...data } = bare;
    (job as unknown as { append(kind: string, data: object): void }).append('act', data);
    job.close();
    writeHeld(fixture, { persons: { p1: 'Ada Lovett' }, site: { name: 'Shed', reference: 'S-1' } });
    return fixture;
  }

  test('is read as it is; what nothing binds is known to be so; who comes next is bound', () => {
    const dir = old();
    expect(workers(dir)).toEqual(['Ada Lovett']);
    expect(readJob(dir).known.site?.name).toBe('Shed');
    actIn(dir, program().system, shift('Bo Marsh'), shift('ada lovett'));
    expect(workers(dir)).toEqual(['Ada Lovett', 'Bo Marsh', 'Ada Lovett']);
    const book = new NameBook();
    for (const record of readRecords(dir)) book.take(record);
    expect([...book.unbound.keys()]).toEqual(['p1']);
    expect([...book.bound.keys()]).toEqual(['p2', 'p1']);
    edit(dir, ({ persons }) => Object.assign(persons!, { p1: 'Mallory' }));
    expect(workers(dir)[2]).toBe('p1');
  });
});
