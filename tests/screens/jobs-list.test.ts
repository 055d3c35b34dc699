import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { jobTrouble } from '../../source/job/jobs.ts';
import { realSystem } from '../../source/journal/system.ts';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { run } from '../commands/run.ts';
import { smallJob } from '../job/small-job.ts';
import { appOf, keys, picture } from './drive.ts';
import { makeJobs, SPOILED } from './many-jobs.ts';

let scratch = '';
let like = '';
let folder = '';
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'loopward-list-'));
  const { job, dir } = smallJob();
  job.close();
  like = dir;
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));
beforeEach(() => {
  folder = mkdtempSync(join(scratch, 'jobs-'));
});

const listed = (wanted = ALL_JOBS) => shelfOf(folder, realSystem()).list(wanted);

function opened() {
  const shelf = shelfOf(folder, realSystem());
  const app = { ...appOf({ columns: 80, rows: 24 }), jobs: shelf.list(ALL_JOBS) };
  const store = createStore(app, { shelf, saveSettings: () => {} });
  return {
    store,
    shows: () => picture(store),
    pick: (value: string) => store.dispatch({ type: 'picked', value }),
    press: (...labels: readonly string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
    },
  };
}

describe('a job folder that something happened to', () => {
  test.each(Object.entries(SPOILED))('%s: its row says so, and the others are listed', (says, spoil) => {
    makeJobs(folder, like, 2, 0);
    const dir = join(folder, 'spoiled');
    mkdirSync(dir);
    spoil(dir);
    const { rows, total } = listed();
    expect(total).toBe(3);
    expect(rows.filter(({ state }) => state === 'open')).toHaveLength(2);
    const row = rows.find((one) => one.dir === dir)!;
    expect(row).toMatchObject({ state: 'unreadable', site: 'spoiled' });
    expect(row.last).toContain(says);
    expect(typeof shelfOf(folder, realSystem()).open(dir)).toBe('string');
  });

  test.each(Object.entries(SPOILED))('%s: no command hangs on it or calls it a defect', async (_, spoil) => {
    const dir = join(folder, 'spoiled');
    for (const argv of [
      ['next', dir],
      ['act', dir, '{"do":"doubt"}'],
      ['history', dir],
      ['verify', dir],
      ['handover', dir, '--out', join(scratch, 'papers')],
      ['carry-on', dir, '--job', join(scratch, 'elsewhere')],
      ['history', '--all', '--jobs', folder],
      ['next', 'no-such-id', '--jobs', folder],
    ]) {
      rmSync(dir, { recursive: true, force: true });
      mkdirSync(dir);
      spoil(dir);
      const { code, err, out } = await run(argv);
      expect(`${argv[0]} ${code}`).toMatch(/ [234]$/);
      expect(err + out).not.toContain('defect');
      expect(err + out).toMatch(/\w/);
    }
  });

  test('what is being made is none yet', () => {
    makeJobs(folder, like, 1, 0);
    expect(listed().total).toBe(1);
    expect(jobTrouble(folder)).toBeNull();
  });
});

describe('jobs by the hundred', () => {
  beforeEach(() => makeJobs(folder, like, 60, 3));

  test('the open ones come first, and of them what was worked on last', () => {
    const worked = join(folder, '2026-01-00030');
    rmSync(worked, { recursive: true });
    mkdirSync(worked);
    writeFileSync(join(worked, 'journal.jsonl'), 'noise');
    const after = new Date(Date.now() + 120_000);
    utimesSync(join(worked, 'journal.jsonl'), after, after);
    const pages = Array.from({ length: listed().pages }, (_, page) => listed({ page, find: '' }).rows);
    const order = pages.flat().map(({ dir }) => Number(dir.slice(-5)));
    expect(order[0]).toBe(30);
    // Every tenth is open; of these some are spoiled, and a spoiled one has no seal.
    expect(order.slice(0, 6).sort((a, b) => a - b)).toEqual([10, 20, 30, 40, 50, 60]);
    expect(order.filter((number, at) => order.indexOf(number) === at).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 60 }, (_, at) => at + 1),
    );
  });

  test('one list tells date and place; seven, eight and nine stay what they are on every page', () => {
    const { shows, pick, press } = opened();
    expect(shows()).toContain('60 jobs, page 1 of 10');
    expect(shows()).toMatch(/1 {2}Boat house \d+ .*\d+ of \d+ +20\d\d-\d\d-\d\d {2}Quay \d+/);
    const stays = () =>
      shows()
        .split('\n')
        .filter((row) => /^\s*[789] {2}/.test(row))
        .map((row) => row.replace(/page.*/, ''));
    const before = stays();
    expect(before).toHaveLength(3);
    for (let page = 2; page <= 10; page++) {
      press('page-down');
      expect(shows()).toContain(`page ${page} of 10`);
      expect(stays()).toEqual(before);
    }
    pick('more');
    expect(shows()).toContain('page 1 of 10');
    pick('others');
    expect(shows()).toContain('A new job');
    press('left');
    expect(shows()).toContain('60 jobs');
  });

  test('one is found by its place, and all are back with one key', () => {
    const { store, shows, press } = opened();
    press('/');
    store.dispatch({ type: 'line', value: 'house 41 quay' });
    press('enter');
    expect(shows()).toContain('1 job with “house 41 quay”');
    expect(store.get().jobs.rows.map(({ site }) => site)).toEqual(['Boat house 41']);
    press('/');
    store.dispatch({ type: 'line', value: 'no such place' });
    press('enter');
    expect(shows()).toContain('No job with “no such place”');
    press('escape');
    expect(shows()).toContain('60 jobs');
  });
});
