import { describe, expect, test } from 'vitest';
import { valuesOf } from '../../source/screens/entry/field.ts';
import { caseAt } from './cases.ts';
import { drive, SHIFT, TO_DEAD, TO_PROOF } from './drive.ts';
import { STEPS } from './small-job.ts';

const TO_CHOICE = [...SHIFT, '1', 'enter'] as const;

describe('a key that a question has no use for is not dropped without a word', () => {
  test('a letter on a choice says which numbers are awaited', () => {
    const { press, picture } = drive();
    press(...TO_CHOICE, 'y');
    expect(picture()).toContain('Press a number from 1 to 3, then Enter.');
    press('2');
    expect(picture()).not.toContain('Nothing was taken');
  });

  test('so does a number that no option has, and it picks nothing', () => {
    const { press, picture, store } = drive();
    press(...TO_CHOICE, '1', '9');
    expect(picture()).toContain('Press a number from 1 to 3, then Enter.');
    const before = store.get().stack;
    press('enter');
    expect(store.get().stack).toHaveLength(before.length);
  });

  test('a letter that is no part of a figure says what a reading takes', () => {
    const { press, picture } = drive();
    press(...TO_DEAD, '2', 'z');
    expect(picture()).toContain('Type the figure; right arrow or / gives OL, k and M.');
  });

  test('a letter that is a shortcut still is one', () => {
    const { press, store } = drive();
    press(...TO_CHOICE, 's');
    expect(store.get().stack.at(-1)?.kind).toBe('steps');
  });

  test('in a form as well', () => {
    const driven = caseAt('form-leave', { columns: 80, rows: 24 });
    driven.press('1', 'z');
    expect(driven.picture()).toContain('Nothing was taken.');
  });
});

describe('a sweep', () => {
  test('that met nothing at all is not asked where it met it', () => {
    const { press, picture } = drive();
    press(...TO_PROOF, '0', 'enter');
    expect(picture()).not.toContain('Where was it met?');
    expect(picture()).toContain('How many points were touched?');
  });

  test('that met anything is asked, until it is mended to nothing', () => {
    const { press, picture } = drive();
    press(...TO_PROOF, ...'0.02', 'enter');
    expect(picture()).toContain('Where was it met?');
    press('up', 'erase', 'erase', 'erase', 'erase', '0', 'enter');
    expect(picture()).toContain('How many points were touched?');
  });

  test('hands in that it was met nowhere', () => {
    const sweep = STEPS.flatMap(({ proof }) => proof).find(({ kind }) => kind === 'sweep')!;
    const { field } = sweep;
    const values = valuesOf([sweep], { [`${field}.greatest`]: '0.0', [`${field}.points`]: '14' });
    expect(values[field]).toEqual({ greatest: '0.0', at: 'nowhere', points: 14 });
  });
});
