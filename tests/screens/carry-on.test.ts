import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { realFiles, realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { appOf, keys, picture } from './drive.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-carry-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

test('after NOT SAVED one key goes on in another folder, and what was typed is recorded there by one Enter', () => {
  const disk = { failing: '' };
  const files = {
    ...realFiles,
    fsync: (...given: Parameters<typeof realFiles.fsync>) => {
      if (disk.failing) throw Object.assign(new Error(disk.failing), { code: disk.failing });
      return realFiles.fsync(...given);
    },
  };
  const shelf = shelfOf(join(folder, 'jobs'), { ...realSystem(), files });
  const store = createStore(appOf({ columns: 80, rows: 24 }), { shelf, saveSettings: () => {} });
  const press = (...labels: readonly string[]) => {
    for (const key of keys(...labels)) store.keys([key]);
  };
  store.dispatch({ type: 'picked', value: 'demo' });
  press('enter', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter', 'left');
  store.dispatch({ type: 'picked', value: 'note' });
  store.dispatch({ type: 'line', value: 'the lid was bent' });
  const dir = store.get().job!.dir;
  disk.failing = 'EIO';
  press('enter');
  expect(picture(store)).toContain('NOT SAVED');
  expect(picture(store)).toContain('+ go on in another folder');
  press('+');
  expect(picture(store)).toContain('the lid was bent');
  disk.failing = '';
  press('1', 'enter');
  const { job, unsaved } = store.get();
  expect(unsaved).toBeNull();
  expect(job!.dir).not.toBe(dir);
  expect(picture(store)).toContain('the lid was bent');
  press('enter');
  expect([...readHistory(job!.dir, { kind: 'note' })].map(({ says }) => says).join()).toContain(
    'the lid was bent',
  );
  store.close();
  expect(verifyJournal(job!.dir).outcome).toBe('open');
});
