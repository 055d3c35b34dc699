import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { realSystem } from '../../source/journal/system.ts';
import { ALL_JOBS, top } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { appOf, keys, picture } from './drive.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-back-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function atJobs(system = realSystem()) {
  const shelf = shelfOf(join(folder, 'jobs'), system);
  const size = { columns: 80, rows: 24 };
  const store = createStore(
    { ...appOf(size), jobs: shelf.list(ALL_JOBS) },
    { shelf, saveSettings: () => {} },
  );
  const press = (...labels: readonly string[]) => {
    for (const key of keys(...labels)) store.keys([key]);
  };
  const squeezed = () => picture(store).replaceAll(/\s+/g, ' ');
  return { store, press, squeezed, pick: (value: string) => store.dispatch({ type: 'picked', value }) };
}

test('where the job stands says who is working comes first, and in the same words as the key', () => {
  const { pick, squeezed, store } = atJobs();
  pick('demo');
  expect(squeezed()).toContain('Next Say who is working');
  expect(squeezed()).toContain('1 or Enter say who is working');
  expect(squeezed()).toContain('Nobody has said who is working');
  store.close();
});

test('leads that were insisted on are told to whoever comes back, until another meter is named', () => {
  const first = atJobs();
  first.pick('demo');
  first.press('enter', ...'Nadia', 'enter', '1', 'enter', ...'500', 'enter');
  first.press('2', 'enter');
  expect(top(first.store.get()).kind).toBe('step');
  first.store.close();
  const second = atJobs();
  second.pick('demo');
  expect(second.squeezed()).toContain('leads of the meter read 500 Ω by themselves');
  second.press('2', ...'Robin', 'enter', '1', 'enter', ...'0.3', 'enter');
  expect(second.store.get().job?.next.warnings.join()).not.toContain('leads of the meter');
  second.store.close();
});

test('a job that another program holds says which one, what to do, and that nothing is lost', () => {
  const first = atJobs();
  first.pick('demo');
  const second = atJobs({ ...realSystem(), pid: 1 });
  second.pick('demo');
  expect(second.squeezed()).toContain(`process ${process.pid} on this computer`);
  expect(second.squeezed()).toContain('Nothing is lost');
  first.store.close();
});

test('a survey from anywhere is opened by its path, and a path that is none says so', () => {
  const file = join(folder, 'anywhere.yaml');
  copyFileSync(join(import.meta.dirname, '../../fixtures/sailing-club/survey.yaml'), file);
  const { store, press, pick, squeezed } = atJobs();
  pick('survey-file');
  press(...'/no/such.yaml', 'enter');
  expect(squeezed()).toContain('/no/such.yaml');
  expect(store.get().notice?.tone).toBe('bad');
  press(...Array.from('/no/such.yaml', () => 'erase'), ...file, 'enter');
  expect(top(store.get()).kind).toBe('edit');
  press('escape');
  expect(top(store.get()).kind).toBe('jobs');
  store.close();
});

test('all keys, and the way out, can be picked on the first screen', () => {
  const { store, pick } = atJobs();
  pick('help');
  expect(top(store.get()).kind).toBe('help');
  store.keys(keys('enter'));
  pick('quit');
  expect(store.get().exit).toBe(0);
});

test('the left arrow alone leads out of a survey, a path and a note with nothing typed', () => {
  const { store, press, pick } = atJobs();
  for (const value of ['new', 'survey-file']) {
    pick(value);
    press('left');
    expect(top(store.get()).kind).toBe('jobs');
  }
  pick('demo');
  press('enter', ...'Nadia', 'enter', '1', 'enter', ...'0.3', 'enter', 'left', '4');
  pick('note');
  expect(top(store.get()).kind).toBe('form');
  press('left');
  expect(top(store.get()).kind).toBe('step');
  store.close();
});

test('a step that failed and is half answered anew is shown as next, and gone on with', () => {
  const first = atJobs();
  first.pick('demo');
  first.press('enter', ...'Nadia', 'enter', '1', 'enter', ...'0.3', 'enter');
  const step = () => (top(first.store.get()) as { step?: string }).step;
  const failing = step();
  // Neither installer nor owner: it does not pass.
  first.press('3', 'enter');
  expect(top(first.store.get()).kind).toBe('diagnosis');
  first.press('escape', '1', 'enter');
  expect(step()).toBe(failing);
  first.store.close();
  const second = atJobs();
  second.pick('demo');
  const title = second.store.get().job?.steps.find(({ id }) => id === failing)?.title ?? '';
  expect(second.squeezed()).toContain(`Next ${title}`);
  second.press('1');
  expect(top(second.store.get())).toMatchObject({ kind: 'step', step: failing });
  second.store.close();
});
