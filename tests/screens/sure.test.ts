import { describe, expect, test } from 'vitest';
import { top } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { keysOf } from '../../source/screens/keys/key.ts';
import { appOf, drive, keys, SHIFT, TO_DEAD, TO_PROOF } from './drive.ts';
import { shelfWith, smallJob } from './small-job.ts';

function dead() {
  const job = smallJob();
  const driven = drive(job);
  driven.press(...TO_DEAD);
  expect(job.supply).toBe('dead');
  return { job, ...driven };
}

describe('doubt while dead is proved', () => {
  test.each(['*', 'd'])('asks once at %s, and a stray key voids nothing', (key) => {
    const { job, press, picture } = dead();
    press(key);
    expect(picture()).toContain('Void the proof of dead?');
    press('escape');
    expect(job.supply).toBe('dead');
    expect(job.acted.some(({ do: what }) => what === 'doubt')).toBe(false);
    expect(picture()).toContain('Lift white of c1');
  });

  test.each([
    ['*', '*'],
    ['d', 'd'],
    ['*', 'enter'],
  ])('is quick: %s and then %s voids it', (first, second) => {
    const { job, press } = dead();
    press(first, second);
    expect(job.supply).toBe('unproven');
  });

  test('a run of the key that came at once, as pasted, voids nothing', () => {
    const { job, store } = dead();
    store.keys(keysOf('**', {}));
    expect(job.supply).toBe('dead');
  });
});

describe('leaving', () => {
  test('while dead is proved says first that the proof ends with it', () => {
    const { press, picture } = dead();
    expect(press('ctrl+c').exit).toBeNull();
    expect(picture()).toContain('The proof of dead ends with it');
    expect(press('escape').exit).toBeNull();
    expect(press('ctrl+c', 'ctrl+c').exit).toBe(0);
  });

  test('for the list of jobs says it as well', () => {
    const { press, pick, picture } = dead();
    press('left');
    pick('jobs');
    expect(picture()).toContain('The proof of dead ends with it');
  });

  test('by a letter in a step asks always, by Ctrl+C only where a proof is lost', () => {
    const { press } = drive();
    press(...SHIFT, ...'1', 'enter', '2', 'enter', '7', 'enter');
    expect(press('q').exit).toBeNull();
    expect(press('q').exit).toBe(0);
    const other = drive();
    other.press(...TO_PROOF);
    expect(other.press('ctrl+c').exit).toBe(0);
  });

  test('a window too small to show a question keeps nobody in', () => {
    const job = smallJob();
    const shelf = shelfWith(job);
    const store = createStore(appOf({ columns: 80, rows: 24 }), { shelf, saveSettings: () => {} });
    store.dispatch({ type: 'picked', value: 'demo' });
    for (const key of keys(...TO_DEAD)) store.keys([key]);
    store.dispatch({ type: 'resized', columns: 40, rows: 10 });
    for (const key of keys('ctrl+c')) store.keys([key]);
    expect(store.get().exit).toBe(0);
    expect(top(store.get()).kind).toBe('step');
  });
});
