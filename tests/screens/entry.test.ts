import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ReadingProof } from '../../source/procedure/step.ts';
import { type Field, fieldsOf, PLAIN_DONE, valuesOf } from '../../source/screens/entry/field.ts';
import { LETTERS } from '../../source/screens/entry/letters.ts';
import {
  answersOf,
  asKept,
  draftAnswers,
  type Entry,
  newEntry,
  reduceEntry,
} from '../../source/screens/entry/state.ts';
import { keptAnswers, verdictAt } from '../../source/screens/entry/verdict.ts';
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

  test('an open circuit is typed by its two letters, and erased whole', () => {
    for (const letters of [['O', 'L'], ['o', 'l'], ['O']]) {
      expect(answersOf(typed(fields, keys(...letters)).entry)).toEqual({ rest: 'OL' });
    }
    expect(answersOf(typed(fields, keys('O', 'L', 'erase')).entry)).toEqual({ rest: '' });
    expect(answersOf(typed(fields, keys('right', 'left')).entry)).toEqual({ rest: '' });
    expect(answersOf(typed(fields, keys('right', 'erase', '4', '7')).entry)).toEqual({ rest: '47' });
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

describe('the sign beside an answer', () => {
  const signs = (fields: readonly Field[], ...pressed: readonly string[]) => {
    const { entry } = typed(fields, keys(...pressed));
    return entry.fields.map((_, index) => verdictAt(entry, index).sign);
  };

  test('is a tick only where the value is as expected', () => {
    const fields = fieldsOf([RESTING, { ...RESTING, field: 'again' }]);
    expect(signs(fields, ...'2190', 'enter')).toEqual(['done', 'open']);
    expect(signs(fields, ...'130', 'enter')).toEqual(['failed', 'open']);
    expect(signs(fields, ...'2.2M', 'enter')).toEqual(['failed', 'open']);
    expect(signs(fields, 'right', 'enter')).toEqual(['failed', 'open']);
    expect(signs(fields, '.', '-')).toEqual(['doubt', 'open']);
  });

  test('of a usable value that is not as expected is a sign of its own', () => {
    const fields = fieldsOf([{ ...RESTING, usable: { min: 0, max: 5000 } }]);
    expect(signs(fields, ...'4700', 'enter')).toEqual(['other']);
  });

  test('of too few points, and of an answer that does not pass, is a cross', () => {
    expect(signs(fieldsOf(SWEEP), ...'0.02', 'enter', '1', 'enter', ...'12', 'enter')).toEqual([
      'done',
      'done',
      'failed',
    ]);
    const asked = fieldsOf(STEPS[0]!.proof);
    expect(signs(asked, '1', 'enter', '2', 'enter')).toEqual(['done', 'failed']);
    const seen = fieldsOf(STEPS.find((step) => step.id === 'walk.shutter')!.proof);
    expect(signs(seen, '1', 'enter')).toEqual(['done']);
    expect(signs(seen, '2', 'enter')).toEqual(['failed']);
  });

  test('of an instrument that no longer shows what it did is a cross', () => {
    const after: ReadingProof = { ...RESTING, field: 'after', agreesWith: { field: 'rest', within: 0.02 } };
    const fields = fieldsOf([RESTING, after]);
    expect(signs(fields, ...'2190', 'enter', ...'2200', 'enter')).toEqual(['done', 'done']);
    expect(signs(fields, ...'2100', 'enter', ...'2300', 'enter')).toEqual(['done', 'failed']);
  });
});

describe('after a try that failed', () => {
  const proofs = [...STEPS[0]!.proof, RESTING, { ...RESTING, field: 'again' }];
  const fields = fieldsOf(proofs);
  const tried = typed(fields, keys('1', 'enter', '1', 'enter', ...'2190', 'enter', ...'4400', 'enter')).entry;

  test('the answers that were right are kept, the wrong one is asked anew', () => {
    expect(keptAnswers(tried, false)).toEqual({ who: 'the occupant', how: 'agreed', rest: '2190' });
  });

  test('a proof of dead keeps nothing that was measured', () => {
    expect(keptAnswers(tried, true)).toEqual({ who: 'the occupant', how: 'agreed' });
    const swept = typed(fieldsOf(SWEEP), keys(...'0.02', 'enter', '1', 'enter', ...'12', 'enter')).entry;
    expect(keptAnswers(swept, true)).toEqual({});
    expect(keptAnswers(swept, false)).toEqual({});
  });

  test('where no answer was wrong by itself, all that was measured is asked anew', () => {
    const fine = typed(
      fields,
      keys('1', 'enter', '1', 'enter', ...'2190', 'enter', ...'2200', 'enter'),
    ).entry;
    expect(keptAnswers(fine, false)).toEqual({ who: 'the occupant', how: 'agreed' });
  });

  test('each kept answer is confirmed by itself, also after a kill, and nothing passes before', () => {
    const saved = asKept(keptAnswers(tried, false));
    let entry = newEntry(fields, draftAnswers(newEntry(fields, saved)));
    expect(entry.at).toBe(0);
    const outcomes = keys('enter', 'enter', 'enter', ...'2200', 'enter').map((key) => {
      const [next, outcome] = reduceEntry(entry, key);
      entry = next;
      return outcome;
    });
    expect(outcomes.slice(0, -1)).not.toContain('complete');
    expect(outcomes.at(-1)).toBe('complete');
  });

  test('a kept answer is replaced by what is typed, never added to', () => {
    const start = newEntry([fields[2]!], asKept({ rest: '2190' }));
    const press = (...labels: readonly string[]) =>
      keys(...labels).reduce((entry, key) => reduceEntry(entry, key)[0], start);
    expect(answersOf(press('4', '7'))).toEqual({ rest: '47' });
    expect(answersOf(press('erase'))).toEqual({ rest: '' });
  });
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

describe('with a numeric keypad and a tired hand', () => {
  const ohms = fieldsOf([RESTING]);

  test('the stroke types OL, and after a figure k and M', () => {
    expect(answersOf(typed(ohms, keys('/', 'enter')).entry)).toEqual({ [RESTING.field]: 'OL' });
    expect(answersOf(typed(ohms, keys('/', '/')).entry)).toEqual({ [RESTING.field]: '' });
    expect(answersOf(typed(ohms, keys('2', '.', '2', '/')).entry)).toEqual({ [RESTING.field]: '2.2k' });
    expect(answersOf(typed(ohms, keys('2', '.', '2', '/', '/')).entry)).toEqual({ [RESTING.field]: '2.2M' });
  });

  test('of a paste only its first line is taken', () => {
    const pasted = [...keys('1', '7', 'enter', '1', 'enter', '1')].map((key) => ({ ...key, pasted: true }));
    const { entry, outcome } = typed([{ ...TEXT, numeric: true }], pasted);
    expect([answersOf(entry), outcome]).toEqual([{ who: '17' }, 'taken']);
    expect(entry.says).toContain('in a run');
  });

  test('a figure typed in a field that was gone back to takes the place of the old one', () => {
    const two = fieldsOf([RESTING, { ...RESTING, field: 'again' }]);
    const { entry } = typed(two, keys('1', 'enter', '5', 'up', '2', '3'));
    expect(answersOf(entry)).toEqual({ [RESTING.field]: '23', again: '5' });
  });

  test('what was half typed is no answer once another field comes before it', () => {
    const two = fieldsOf([
      { ...RESTING, field: 'dc' },
      { ...RESTING, field: 'again' },
    ]);
    const saved = draftAnswers(typed(two, keys('0')).entry);
    const three = newEntry([CHOICE, ...two], saved);
    const [answered] = keys('1', 'enter').reduce(([entry], key) => reduceEntry(entry, key), [
      three,
      'taken',
    ] as const as readonly [Entry, string]);
    expect(answered.at).toBe(1);
  });
});
