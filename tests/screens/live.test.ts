import { describe, expect, test } from 'vitest';
import type { Action } from '../../source/job/action.ts';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import type { LivePort } from '../../source/screens/live/port.ts';
import { appOf, drive, keys, picture, SHIFT } from './drive.ts';
import { DEAF, hears, type Told, WALKED } from './heard.ts';
import { shelfWith, smallJob } from './small-job.ts';

const confirmed = (acted: readonly Action[]) => acted.filter((action) => action.do === 'confirm');
const PULSES: readonly Told[] = [
  [1, '1', 'open'],
  [4, '1', 'closed'],
  [20, '2', 'open'],
  [23, '2', 'closed'],
];

function walking() {
  const job = smallJob(WALKED);
  const driven = drive(job);
  driven.press(...SHIFT);
  return { job, ...driven };
}

describe('a card of which something is heard', () => {
  test('takes what was heard with Enter, field by field, and keeps it beside what was confirmed', () => {
    const { job, store, press, picture: shown } = walking();
    store.dispatch(hears(PULSES.slice(0, 1)));
    expect(shown()).toContain('heard open at 12:00:01');
    expect(confirmed(job.acted)).toEqual([]);
    press('enter');
    store.dispatch(hears(PULSES.slice(0, 2)));
    expect(shown()).toContain('heard closed at 12:00:04');
    press('enter');
    const [only, ...more] = confirmed(job.acted);
    expect(more).toEqual([]);
    expect(only).toMatchObject({
      step: 'walk.shutter',
      values: { worked: 'open', restored: 'closed' },
      heard: { worked: { state: 'open', others: [] }, restored: { state: 'closed', deafSeconds: 0 } },
    });
  });

  test('what the person sees counts, and what was heard stands beside it', () => {
    const { job, store, press, picture: shown } = walking();
    store.dispatch(hears([[2, '3', 'open']]));
    expect(shown().replaceAll(/\s+/g, ' ')).toContain('Asked b1/1, heard b1/3: say what you see here');
    // Nothing was heard of it: Enter alone takes nothing.
    press('enter');
    expect(confirmed(job.acted)).toEqual([]);
    press('2', 'enter', '2', 'enter');
    expect(confirmed(job.acted)[0]).toMatchObject({
      values: { worked: 'closed', restored: 'closed' },
      heard: { worked: { state: 'nothing', at: null, others: ['b1/3'] } },
    });
  });

  test('an Enter that came in a run of keys takes nothing', () => {
    const { job, store } = walking();
    store.dispatch(hears(PULSES));
    store.keys([{ name: 'enter', char: '', pasted: true }]);
    store.keys([{ name: 'enter', char: '', pasted: true }]);
    expect(confirmed(job.acted)).toEqual([]);
  });

  test('without anybody who listens a card is as it was', () => {
    const { job, press, picture: shown } = walking();
    expect(shown()).not.toMatch(/heard|DEAF|hears/);
    press('enter', 'enter');
    expect(confirmed(job.acted)).toEqual([]);
    press('1', 'enter', '2', 'enter');
    expect(confirmed(job.acted)[0]).not.toHaveProperty('heard');
  });

  test('while it is deaf that is said on the card, with what to do', () => {
    const { store, picture: shown } = walking();
    store.dispatch(hears([], DEAF));
    const text = shown().replaceAll(/\s+/g, ' ');
    expect(text).toContain('DEAF 127.0.0.1:1883');
    expect(text).toContain(
      'DEAF since 12:01:00. Nothing answers at 127.0.0.1:1883. Look whether the broker runs',
    );
  });
});

describe('a tour', () => {
  test('ticks each detector as it is heard, rings once for each, and records only what is confirmed', () => {
    const job = smallJob(WALKED);
    const shelf = shelfWith(job);
    let rings = 0;
    const store = createStore(
      { ...appOf({ columns: 80, rows: 24 }), jobs: shelf.list(ALL_JOBS) },
      { shelf, saveSettings: () => {}, ring: () => rings++ },
    );
    const press = (...labels: string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
    };
    store.dispatch({ type: 'picked', value: 'demo' });
    press(...SHIFT);
    store.dispatch(hears([]));
    press('t');
    expect(picture(store)).toContain('tour: 0 of 3 heard');
    for (const count of [1, 2, 3, 4]) store.dispatch(hears(PULSES.slice(0, count)));
    store.dispatch(hears(PULSES));
    expect(rings).toBe(2);
    expect(picture(store)).toContain('tour: 2 of 3 heard');
    press('enter');
    expect(confirmed(job.acted).map((action) => action.step)).toEqual(['walk.shutter']);
    // All others behind one question, and "no" is as near as "yes".
    press('a', '0');
    expect(confirmed(job.acted)).toHaveLength(1);
    press('a', '1');
    expect(confirmed(job.acted).map((action) => action.step)).toEqual(['walk.shutter', 'walk.side-door']);
    expect(confirmed(job.acted)[1]).toMatchObject({ heard: { worked: { state: 'open', changes: 2 } } });
    expect(picture(store)).toContain('recorded');
  });

  test('exchanged landings are named and not recorded; Enter opens the card, which knows where it was heard', () => {
    const { job, store, press, picture: shown } = walking();
    store.dispatch(hears([]));
    press('t');
    store.dispatch(
      hears([
        [1, '2', 'open'],
        [4, '2', 'closed'],
        [20, '1', 'open'],
        [23, '1', 'closed'],
      ]),
    );
    expect(shown()).toContain('exchanged with 2 (b1/2)');
    press('a', '1');
    expect(confirmed(job.acted)).toEqual([]);
    press('enter');
    expect(shown()).toContain('Work shutter by itself');
  });

  test('the bell is silent where it was switched off', () => {
    const job = smallJob(WALKED);
    const shelf = shelfWith(job);
    let rings = 0;
    const outside = { shelf, saveSettings: () => {}, ring: () => rings++ };
    const store = createStore(
      { ...appOf({ columns: 80, rows: 24 }, { bell: 'off' }), jobs: shelf.list(ALL_JOBS) },
      outside,
    );
    store.dispatch({ type: 'picked', value: 'demo' });
    for (const key of keys(...SHIFT)) store.keys([key]);
    store.dispatch(hears([]));
    for (const key of keys('t')) store.keys([key]);
    store.dispatch(hears(PULSES));
    expect(picture(store)).toContain('tour: 2 of 3 heard');
    expect(rings).toBe(0);
  });
});

describe('nothing is opened unless somebody asks for it', () => {
  test('looking at the screen reads how it is set up, and only the key listens', () => {
    const job = smallJob(WALKED);
    const shelf = shelfWith(job);
    const calls: string[] = [];
    const port: LivePort = {
      setup: () => {
        calls.push('setup');
        return {
          source: {
            kind: 'mqtt',
            url: 'mqtt://127.0.0.1:1',
            username: null,
            passwordFile: null,
            caFile: null,
          },
          boards: {},
        };
      },
      setSource: () => calls.push('source'),
      setMapping: () => calls.push('mapping'),
      listen: (_, boards) => calls.push(`listen ${boards.map(({ id }) => id).join()}`),
      hold: () => calls.push('hold'),
      candidates: () => calls.push('candidates'),
      stop: () => calls.push('stop'),
    };
    const store = createStore(
      { ...appOf({ columns: 80, rows: 24 }), jobs: shelf.list(ALL_JOBS) },
      { shelf, saveSettings: () => {}, live: () => port },
    );
    const press = (...labels: string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
    };
    store.dispatch({ type: 'picked', value: 'demo' });
    press(...SHIFT, 'escape');
    // Opening a job lets go of what was heard before.
    calls.length = 0;
    press('l');
    expect(calls).toEqual(['setup']);
    press('1');
    expect(calls).toEqual(['setup', expect.stringMatching(/^listen/)]);
    store.close();
    expect(calls.at(-1)).toBe('stop');
  });
});
