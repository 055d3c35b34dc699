import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseAction } from '../../source/job/parse-action.ts';
import { scale } from '../scale.ts';

const says = (given: unknown): string => {
  const parsed = parseAction(given);
  return parsed.ok ? '' : parsed.says;
};

describe('an action as it is given', () => {
  test.each([
    { do: 'start-shift', name: 'Ada', instrument: 'meter 3' },
    { do: 'start-shift', name: 'Ada', instrument: 'meter 3', zero: 0.2 },
    { do: 'begin', step: 'supply.isolate' },
    {
      do: 'confirm',
      step: 'supply.prove',
      values: { dc: { greatest: '0.02 V', at: 'c1/1', points: 24 }, rest: 2200 },
    },
    { do: 'correct', reason: 'another resistor', set: [{ path: 'zones.z1.loop.resistor', value: '4k7' }] },
    { do: 'close', signatures: [{ name: 'Ada', role: 'installer' }] },
    { do: 'note', text: 'Two lines\nof a note', by: 'p1', acknowledge: ['looks-like-a-code'] },
  ])('%j is one', (given) => {
    expect(parseAction(given).ok).toBe(true);
  });

  test('a number takes the unit of its field, as if it had been typed', () => {
    const parsed = parseAction({
      do: 'confirm',
      step: 's',
      values: { rest: 2200, dc: { greatest: 0.02, at: 'x', points: 1 } },
    });
    expect(parsed).toMatchObject({
      ok: true,
      action: { values: { rest: '2200', dc: { greatest: '0.02' } } },
    });
  });

  test('signatures may be names alone, or names by role', () => {
    const close = (signatures: unknown) => {
      const parsed = parseAction({ do: 'close', signatures });
      return parsed.ok && parsed.action.do === 'close' ? parsed.action.signatures : null;
    };
    expect(close(['Ada'])).toEqual([{ name: 'Ada', role: 'signed' }]);
    expect(close({ owner: 'Ben' })).toEqual([{ name: 'Ben', role: 'owner' }]);
    expect(close([{ name: 'Ada', role: 'installer' }])).toEqual([{ name: 'Ada', role: 'installer' }]);
    expect([close([]), close({}), close('Ada'), close([3]), close({ owner: 3 })]).toEqual([
      null,
      null,
      null,
      null,
      null,
    ]);
  });

  test.each([
    [undefined, 'JSON object'],
    [null, 'JSON object'],
    [[], 'JSON object'],
    ['doubt', 'JSON object'],
    [{}, 'names no action'],
    [{ do: 'constructor' }, 'names no action'],
    [{ do: '__proto__' }, 'names no action'],
    [{ do: ['doubt'] }, 'names no action'],
    [{ do: 'confirm', step: 's' }, '"values"'],
    [{ do: 'confirm', step: 's', value: {} }, '"value"'],
    [{ do: 'note', text: '' }, 'is empty'],
    [{ do: 'note', text: '   ' }, 'is empty'],
    [{ do: 'note', text: 'x'.repeat(2001) }, 'longer than'],
    [{ do: 'note', text: 'a\u001b[2Jb' }, 'control characters'],
    [{ do: 'note', text: 'a\u202eb' }, 'control characters'],
    [{ do: 'note', text: 'half \ud800 character' }, 'half a character'],
    [{ do: 'doubt', why: 'because' }, '"why"'],
    [{ do: 'close', signatures: [] }, '"signatures"'],
    [{ do: 'confirm', step: 's', values: { dc: { greatest: '1', at: 'x', points: 1.5 } } }, 'values.dc'],
  ])('%j is none, and it is said why', (given, why) => {
    expect(says(given)).toContain(why);
  });

  test('whatever is given, the answer is an action or a sentence', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.anything({ withNullPrototype: true, withBigInt: true }),
          fc.record({
            do: fc.constantFrom(
              'confirm',
              'note',
              'correct',
              'leave',
              'away',
              'close',
              'photo',
              'start-shift',
            ),
            step: fc.anything(),
            values: fc.anything(),
            text: fc.string({ unit: 'binary' }),
            set: fc.anything(),
            signatures: fc.anything(),
          }),
        ),
        (given) => {
          const parsed = parseAction(given);
          expect(parsed.ok || parsed.says.length > 10).toBe(true);
        },
      ),
      { numRuns: scale(20_000, 0.05), seed: 6 },
    );
  });
});
