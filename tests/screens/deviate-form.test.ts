import { describe, expect, test } from 'vitest';
import type { App } from '../../source/screens/app/state.ts';
import { isFieldAsked } from '../../source/screens/entry/asked.ts';
import { DEVIATE } from '../../source/screens/form/deviate.ts';

const ACTS = [
  { do: 'land', conductor: 'c5/1', at: 'b1:I4' },
  { do: 'land', conductor: 'c5/2', at: 'b1:C2' },
] as const;

const appWith = (acts: readonly object[]) =>
  ({ job: { steps: [{ id: 'rewire.c5', acts }] } }) as unknown as App;

/** The fields that these answers ask for, by id. */
function asked(acts: readonly object[], answers: Readonly<Record<string, string>>): string[] {
  const fields = DEVIATE.fields(appWith(acts), 'rewire.c5');
  return fields.flatMap((field, at) => (isFieldAsked(fields, at, (id) => answers[id]) ? [field.id] : []));
}

const action = (acts: readonly object[], answers: Readonly<Record<string, string>>) =>
  DEVIATE.action({ reason: 'r', residualRisk: 'k', ...answers }, 'rewire.c5', appWith(acts));

describe('giving a step up in the screens', () => {
  test('asks how far it was done, and of each act only where it was done in part', () => {
    expect(asked(ACTS, {})).toEqual(['reason', 'residualRisk', 'how-far']);
    expect(asked(ACTS, { 'how-far': 'nothing' })).toHaveLength(3);
    expect(asked(ACTS, { 'how-far': 'part' })).toEqual([
      'reason',
      'residualRisk',
      'how-far',
      'land c5/1',
      'land c5/2',
    ]);
  });

  test('asks the one act of a card at once, and nothing where there is none', () => {
    expect(asked(ACTS.slice(0, 1), {})).toEqual(['reason', 'residualRisk', 'land c5/1']);
    expect(asked([], {})).toEqual(['reason', 'residualRisk']);
    expect(action([], {})).toEqual({ do: 'deviate', step: 'rewire.c5', reason: 'r', residualRisk: 'k' });
  });

  test.each([
    ['nothing', ['not-done', 'not-done']],
    ['all', ['done', 'done']],
    ['unknown', ['unknown', 'unknown']],
  ])('answers every act with %s', (howFar, went) => {
    expect(action(ACTS, { 'how-far': howFar })).toMatchObject({
      acts: [
        { act: 'land c5/1', how: went[0] },
        { act: 'land c5/2', how: went[1] },
      ],
    });
  });

  test('answers each act by itself where it was done in part', () => {
    const answers = { 'how-far': 'part', 'land c5/1': 'done', 'land c5/2': 'unknown' };
    expect(action(ACTS, answers)).toMatchObject({
      acts: [
        { act: 'land c5/1', how: 'done' },
        { act: 'land c5/2', how: 'unknown' },
      ],
    });
    expect(action(ACTS.slice(0, 1), { 'land c5/1': 'not-done' })).toMatchObject({
      acts: [{ act: 'land c5/1', how: 'not-done' }],
    });
  });
});
