import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Field, fieldsOf, PLAIN_DONE, valuesOf } from '../../source/screens/entry/field.ts';
import { LETTERS } from '../../source/screens/entry/letters.ts';
import {
  answersOf,
  draftAnswers,
  type Entry,
  newEntry,
  reduceEntry,
} from '../../source/screens/entry/state.ts';
import type { Key } from '../../source/screens/keys/key.ts';
import { keysOf } from '../../source/screens/keys/key.ts';
import { keys } from './drive.ts';
import { RESTING, STEPS } from './small-job.ts';

const SWEEP = STEPS.find((step) => step.id === 'supply.prove')!.proof;
const CHOICE: Field = {
  kind: 'choice',
  id: 'how',
  label: 'How?',
  options: [
    { id: 'yes', label: 'yes' },
    { id: 'no', label: 'no' },
  ],
};
const TEXT: Field = {
  kind: 'text',
  id: 'who',
  label: 'Who',
  minLength: 2,
  offers: ['the occupant'],
  numeric: false,
};

function typed(fields: readonly Field[], pressed: readonly Key[]): { entry: Entry; outcome: string } {
  let entry = newEntry(fields);
  let outcome = 'none';
  for (const key of pressed) [entry, outcome] = reduceEntry(entry, key);
  return { entry, outcome };
}

describe('a choice', () => {
  test('has no default: Enter by itself answers nothing', () => {
    const { entry, outcome } = typed([CHOICE], keys('enter', 'enter', 'enter'));
    expect(outcome).toBe('empty');
    expect(answersOf(entry)).toEqual({ how: '' });
  });

  test('is made by a number and then Enter', () => {
    expect(typed([CHOICE], keys('2')).outcome).toBe('taken');
    const { entry, outcome } = typed([CHOICE], keys('2', 'enter'));
    expect(outcome).toBe('complete');
    expect(answersOf(entry)).toEqual({ how: 'no' });
  });

  test('a pasted number with its newline chooses nothing and passes nothing', () => {
    const { entry, outcome } = typed([CHOICE], keysOf('1\r', {}));
    expect(outcome).not.toBe('complete');
    expect(answersOf(entry)).toEqual({ how: '' });
  });

  test('of more than nine takes its number digit by digit', () => {
    const many: Field = {
      ...CHOICE,
      options: Array.from({ length: 14 }, (_, index) => ({ id: `p${index + 1}`, label: 'x' })),
    };
    expect(answersOf(typed([many], keys('1', '2', 'enter')).entry)).toEqual({ how: 'p12' });
    expect(answersOf(typed([many], keys('7', 'enter')).entry)).toEqual({ how: 'p7' });
  });

  test('where a step asks for nothing, it must still be said that it is done', () => {
    expect(fieldsOf([])).toEqual([PLAIN_DONE]);
    expect(typed(fieldsOf([]), keys('enter')).outcome).toBe('empty');
  });
});

describe('a reading', () => {
  const fields = fieldsOf([RESTING]);

  test('is typed with the digits, the point and Enter', () => {
    const { entry, outcome } = typed(fields, keys('2', '1', '9', '0', 'enter'));
    expect(outcome).toBe('complete');
    expect(valuesOf([RESTING], answersOf(entry))).toEqual({ rest: '2190' });
  });

  test('the right arrow gives an open circuit and the prefixes a keypad lacks', () => {
    expect(answersOf(typed(fields, keys('right')).entry)).toEqual({ rest: 'OL' });
    expect(answersOf(typed(fields, keys('2', '.', '2', 'right')).entry)).toEqual({ rest: '2.2k' });
    expect(answersOf(typed(fields, keys('2', 'right', 'right')).entry)).toEqual({ rest: '2M' });
    expect(answersOf(typed(fields, keys('2', 'right', 'right', 'right')).entry)).toEqual({ rest: '2' });
  });

  test('the left arrow erases, and on an empty field is left to the screen', () => {
    expect(answersOf(typed(fields, keys('2', '2', 'left')).entry)).toEqual({ rest: '2' });
    expect(typed(fields, keys('left')).outcome).toBe('unused');
  });

  test('nonsense is told why and passes nothing', () => {
    const { entry, outcome } = typed(fields, keys('2', '.', '.', '2', 'enter'));
    expect(outcome).toBe('taken');
    expect(entry.says).not.toBeNull();
  });
});

describe('a sweep', () => {
  test('asks for the greatest value, where it was met and at how many points', () => {
    const { entry, outcome } = typed(
      fieldsOf(SWEEP),
      keys('0', '.', '0', '2', 'enter', '1', '2', 'enter', '1', '4', 'enter'),
    );
    expect(outcome).toBe('complete');
    expect(valuesOf(SWEEP, answersOf(entry))).toEqual({ dc: { greatest: '0.02', at: 'old:12', points: 14 } });
  });
});

describe('a text', () => {
  test('is picked by number, or typed', () => {
    expect(answersOf(typed([TEXT], keys('1', 'enter')).entry)).toEqual({ who: 'the occupant' });
    expect(answersOf(typed([TEXT], keys('J', 'o', 'enter')).entry)).toEqual({ who: 'Jo' });
  });

  test('that is too short says how long it must be', () => {
    const { entry, outcome } = typed([TEXT], keys('J', 'enter'));
    expect(outcome).toBe('taken');
    expect(entry.says).toContain('2');
  });

  test('is spelled with arrows and Enter alone', () => {
    const at = (letter: string) => LETTERS.indexOf(letter);
    const to = (from: number, letter: string) => Array.from({ length: at(letter) - from }, () => 'right');
    const pressed = [
      '2',
      ...to(0, 'b'),
      'enter',
      ...to(at('b'), 'o'),
      'enter',
      ...to(at('o'), 'end'),
      'enter',
      'enter',
    ];
    const { entry, outcome } = typed([TEXT], keys(...pressed));
    expect(answersOf(entry)).toEqual({ who: 'bo' });
    expect(outcome).toBe('complete');
  });
});

test('a newline in a run of keys completes no entry, whatever is in the run', () => {
  const all = [...STEPS.flatMap((step) => fieldsOf(step.proof)), TEXT, CHOICE];
  fc.assert(
    fc.property(fc.constantFrom(...all), fc.stringMatching(/^[0-9a-zOL.\r\n -]{2,12}$/), (field, chunk) => {
      expect(typed([field], keysOf(chunk, {})).outcome).not.toBe('complete');
    }),
    { seed: 11, numRuns: 500 },
  );
});

test('a draft puts every field back as it was typed', () => {
  const fields = fieldsOf(SWEEP);
  const saved = { 'dc.greatest': '0.02', 'dc.at': 'old:12', 'dc.points': '' };
  const entry = newEntry(fields, saved);
  expect(answersOf(entry)).toEqual(saved);
  expect(entry.at).toBe(2);
});

test('a reading that was half typed has the keys again, though what stands there could be one', () => {
  const fields = fieldsOf([RESTING, { ...RESTING, field: 'worked' }]);
  const { entry } = typed(fields, keys('2', '1'));
  const again = newEntry(fields, draftAnswers(entry));
  expect(again.at).toBe(0);
  expect(answersOf(again).rest).toBe('21');
});
