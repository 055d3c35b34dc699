import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keysOf, safeText } from '../../source/screens/keys/key.ts';
import { commandOf, showKey, workingRows } from '../../source/screens/keys/table.ts';

const names = (input: string, ink = {}) => keysOf(input, ink).map((key) => key.name);

describe('a chunk of input becomes keys', () => {
  test('a sign by itself was pressed, a run was pasted', () => {
    expect(keysOf('a', {})).toEqual([{ name: 'char', char: 'a', pasted: false }]);
    expect(keysOf('ab', {}).every((key) => key.pasted)).toBe(true);
  });

  test('both line ends are Enter, also together as one', () => {
    expect(names('\r')).toEqual(['enter']);
    expect(names('\n')).toEqual(['enter']);
    expect(names('1\r\n2')).toEqual(['char', 'enter', 'char']);
  });

  test('a Backspace held down erases as often as it came', () => {
    expect(names('\x7f\x7f\x7f')).toEqual(['erase', 'erase', 'erase']);
    expect(names('', { delete: true })).toEqual(['erase']);
  });

  test('the rest of an arrow whose Escape came alone is dropped', () => {
    expect(names('[A')).toEqual([]);
    expect(names('[1;5C')).toEqual([]);
  });

  test('arrows held down arrive in runs and all count', () => {
    // Ink strips the first Escape of a chunk.
    expect(names('[B\x1b[B\x1b[B')).toEqual(['down', 'down', 'down']);
  });

  test('controls and marks that turn the direction of writing are dropped', () => {
    expect(names('\x00a\u202eb')).toEqual(['char', 'char']);
    expect(safeText('a\u202e\x1bb')).toBe('ab');
  });

  test('a letter made of several code points is one key', () => {
    expect(keysOf('e\u0301', {}).map((key) => key.char)).toEqual(['e\u0301']);
  });

  test('no input whatever makes a key of a control sign', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (input) => {
        for (const key of keysOf(input, {})) expect(key.char).not.toMatch(/[\x00-\x1f\x7f]/);
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});

describe('the key table', () => {
  const rows = [
    { keys: ['f'], does: 'far', says: 'far view', foot: true, works: (on: boolean) => on },
    { keys: ['f', 'ctrl+c'], does: 'quit', says: 'leave', foot: true },
  ] as const;

  test('the first row that works has the key', () => {
    const [key] = keysOf('f', {});
    expect(commandOf(rows, key!, true)).toBe('far');
    expect(commandOf(rows, key!, false)).toBe('quit');
    expect(workingRows(rows, false).map((row) => row.does)).toEqual(['quit']);
  });

  test('keys are written as they stand on a keyboard', () => {
    expect(['ctrl+c', 'page-up', 'x', 'erase'].map(showKey)).toEqual(['Ctrl+C', 'PgUp', 'x', 'Backspace']);
  });
});
