import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { realSystem } from '../../source/journal/system.ts';
import { top } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { appOf, drive, keys, picture, TO_DEAD } from './drive.ts';
import { leadTo, leadToClosed, startShift } from './lead.ts';
import { smallJob } from './small-job.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-jobs-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function opened(value: string) {
  const store = createStore(appOf({ columns: 80, rows: 24 }), {
    shelf: shelfOf(folder, realSystem()),
    saveSettings: () => {},
  });
  store.dispatch({ type: 'picked', value });
  const press = (...labels: readonly string[]) => {
    for (const key of keys(...labels)) store.keys([key]);
  };
  return { store, press };
}

describe('the jobs', () => {
  test('a rehearsal says so on every screen, and its building answers what the meter shows', () => {
    const { store, press } = opened('rehearse');
    store.dispatch({ type: 'picked', value: 'drawn 2' });
    expect(picture(store)).toContain('REHEARSAL');
    press('1', ...'Nadia', 'enter', '1', 'enter', ...'0.3', 'enter');
    expect(picture(store)).toContain('REHEARSAL');
    press('m');
    expect(store.get().notice?.says).toMatch(/^In this building: /);
    store.close();
  });

  test('a real job has no building to ask', () => {
    const { press, store } = opened('demo');
    press('1', ...'Nadia', 'enter', '1', 'enter', ...'0.3', 'enter', 'm');
    expect(`${store.get().notice?.says}`).not.toContain('In this building');
    store.close();
  });

  test('a closed one gives its documents, is found whole, and takes notes only', () => {
    const { store, press } = opened('demo');
    leadToClosed(store);
    press('6');
    expect(readdirSync(join(folder, 'demo-handover')).length).toBeGreaterThan(3);
    press('1', 'v');
    expect(store.get().notice?.more[0]).toMatch(/^Head \d+:[0-9a-f]{64}$/);
    press('escape', 'n', ...'the key hangs behind the bar', 'enter');
    store.dispatch({ type: 'line', value: 'the key hangs behind the bar' });
    press('enter');
    expect(existsSync(join(folder, 'demo', 'journal.2.jsonl'))).toBe(true);
    press('4');
    expect(picture(store)).toContain('closed');
    press('o');
    expect(store.get().notice?.says).toContain('demo-handover');
    store.close();
  });

  test('one that another program holds is said so, and nothing breaks', () => {
    const first = opened('demo');
    const second = opened('demo');
    expect(top(second.store.get()).kind).toBe('jobs');
    expect(second.store.get().notice?.tone).toBe('bad');
    first.store.close();
  });
});

describe('what does not go as planned', () => {
  test('a reading that does not fit is explained; the survey is corrected, its difference shown first, and the step is read again', () => {
    const { store, press } = opened('demo');
    startShift(store);
    leadTo(store, 'resistors.z2');
    press('1', 'enter', ...'2200', 'enter', 'right', 'enter', 'right', 'enter');
    expect(picture(store)).toContain('It may be, the likeliest first:');
    press('k', '1', 'enter', ...'4700', 'enter', '1', 'enter');
    expect(picture(store)).toContain('What adopting it changes');
    expect(store.get().notice).toBeNull();
    press('enter');
    expect(store.get().notice?.says).toContain('adopted');
    expect(store.get().job?.plan.survey.zones.find((zone) => zone.id === 'z2')?.loop.resistorOhms).toBe(4700);
    store.close();
  });

  test('any edit after a preview voids it: nothing is adopted whose difference was not shown', () => {
    const { store, press } = opened('demo');
    const ohms = () => store.get().job?.plan.survey.zones.find((zone) => zone.id === 'z2')?.loop.resistorOhms;
    startShift(store);
    leadTo(store, 'resistors.z2');
    press('1', 'enter', ...'2200', 'enter', 'right', 'enter', 'right', 'enter');
    press('k', '1', 'enter', ...'4700', 'enter', '1', 'enter');
    const shown = picture(store);
    expect(shown).toContain('What adopting it changes');
    const before = ohms();
    press('up', ...Array<string>(4).fill('erase'), ...'5600');
    expect(picture(store)).not.toContain('What adopting it changes');
    press('enter');
    expect(ohms()).toBe(before);
    expect(store.get().notice).toBeNull();
    expect(picture(store)).toContain('What adopting it changes');
    expect(picture(store)).not.toBe(shown);
    press('enter');
    expect(ohms()).toBe(5600);
    store.close();
  });

  test('a voltage met at a wire shuts its step, and the screen goes on to proving dead again', () => {
    const { store, press } = opened('demo');
    startShift(store);
    leadTo(store, 'measure.z1');
    press(...'2.2', 'enter', '1', 'enter', '2', 'enter');
    expect(store.get().job?.next.supply).toBe('isolating');
    expect(picture(store)).toContain('this step waits until it is made safe');
    expect(picture(store)).toContain('to what comes first now');
    press('1');
    expect(picture(store)).not.toContain('No step is open now');
    const screen = top(store.get());
    expect(screen.kind === 'step' && screen.step).toBe('supply.prove');
    store.close();
  });

  test('a voltage beyond 50 V stands on the card of every other step, until it is on record what it was', () => {
    const { store, press } = opened('demo');
    const said = () => picture(store).replaceAll(/\s+/g, ' ');
    const field = () => {
      const screen = top(store.get());
      return screen.kind === 'step' ? screen.entry.fields[screen.entry.at]?.id : undefined;
    };
    startShift(store);
    leadTo(store, 'isolate.battery.1');
    while (field() !== 'volts') press('1', 'enter');
    press(...'2019', 'enter');
    expect(said()).toContain('hands off until it is made safe');
    press('1');
    expect(said()).not.toContain('A voltage was met with which nothing here works');
    press('tab');
    for (const value of ['menu-look', 'steps']) store.dispatch({ type: 'picked', value });
    press('right', 'enter');
    const screen = top(store.get());
    expect(screen.kind === 'step' && (screen.looking ?? screen.step)).not.toBe('isolate.battery.1');
    expect(screen.kind).toBe('step');
    expect(said()).toContain('A voltage was met with which nothing here works');
    store.close();
  });

  test('a figure typed at a question means mending: the 2 in it never counts as "it is so"', () => {
    const { store, press } = opened('demo');
    press('1', ...'Nadia', 'enter', '2', 'enter', ...'500', 'enter');
    expect(top(store.get()).kind).toBe('challenge');
    press('0');
    expect(top(store.get()).kind).toBe('form');
    expect(store.get().notice?.says).toContain('Nothing is recorded');
    press('erase', 'erase', 'erase', ...'0.2', 'enter');
    expect(store.get().job?.next.personName).toBe('Nadia');
    expect(store.get().job?.persons.length).toBe(1);
    store.close();
  });

  test('doubt takes the proof away at one key pressed twice, and the proof is what is asked next', () => {
    const { store, press } = opened('demo');
    startShift(store);
    leadTo(store, 'label.c1');
    expect(store.get().job?.next.supply).toBe('dead');
    // Also on a card that asks for words, where letters are letters.
    press('*');
    expect(picture(store)).toContain('Void the proof of dead?');
    expect(store.get().job?.next.supply).toBe('dead');
    press('*');
    expect(store.get().job?.next.supply).toBe('unproven');
    expect(picture(store)).toContain('NOT PROVED DEAD');
    leadTo(store, 'label.c1');
    expect(store.get().job?.next.supply).toBe('dead');
    store.close();
  });

  test('away, pause, a change of person and leaving for the night are said by number', () => {
    const { store, press } = opened('demo');
    startShift(store);
    leadTo(store, 'label.c1');
    const say = (form: string, ...answers: readonly string[]) => {
      press('left');
      store.dispatch({ type: 'picked', value: form });
      press(...answers);
    };
    say('away', '1', 'enter', '2', 'enter');
    expect(store.get().notice?.tone).toBe('good');
    say('pause', '1', 'enter');
    expect(store.get().job?.next.supply).toBe('unproven');
    say('shift', ...'Joren', 'enter', '2', 'enter', ...'0.2', 'enter');
    expect(store.get().job?.next.personName).toBe('Joren');
    press('left');
    store.dispatch({ type: 'picked', value: 'leave' });
    for (let turn = 0; turn < 12 && top(store.get()).kind === 'form'; turn++) press('1', 'enter');
    expect(store.get().notice?.says).toContain('Left for the night');
    store.close();
  });
});

describe('with a screen reader', () => {
  test('every screen is linear text that still says everything', () => {
    const { press, picture: shown } = drive(smallJob(), { columns: 80, rows: 24 }, {}, true);
    press(...TO_DEAD, ...'4400');
    const text = shown();
    for (const words of [
      'DEAD, PROVED',
      'Lift white of c1',
      'expected 2.08 to 2.34 kΩ',
      'does not pass',
      '4400',
    ]) {
      expect(text).toContain(words);
    }
    // No drawing, and no row that says nothing.
    expect(text).not.toMatch(/[█▒├┤▼◉└]/);
    expect(text.split('\n').filter((row) => /^[\s─━]*$/.test(row)).length).toBeLessThanOrEqual(2);
  });
});
