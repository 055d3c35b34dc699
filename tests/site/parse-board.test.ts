import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BOARDS } from '../../source/screens/survey/options.ts';
import { parseBoard } from '../../source/site/parse-board.ts';
import { shippedBoard } from '../random-survey.ts';

const text = readFileSync(new URL('../../fixtures/boards/six-paired.yaml', import.meta.url), 'utf8');

function fields(...changes: [string, string][]): string[] {
  let changed = text;
  for (const [from, to] of changes) {
    if (!changed.includes(from)) throw new Error(`nothing to change: ${from}`);
    changed = changed.replace(from, to);
  }
  const read = parseBoard(changed, 'board.yaml', 'b1');
  return read.ok ? [] : read.problems.map((problem) => problem.field);
}

describe('boards', () => {
  const SHIPPED = [
    ['six-paired', 6, 'none'],
    ['eight-paired', 8, 'none'],
    ['twelve-supervised', 12, 'series'],
  ] as const;

  test('the folder, this list and what survey entry offers are the same', () => {
    const files = readdirSync(new URL('../../fixtures/boards/', import.meta.url));
    const named = files.map((file) => file.replace(/\.yaml$/, '')).sort();
    const listed = (rows: readonly (readonly [string, ...unknown[]])[]) =>
      rows.map(([name]) => name).toSorted();
    expect(listed(SHIPPED), 'SHIPPED in this file has a row for each file').toEqual(named);
    expect(listed(BOARDS), 'BOARDS in source/screens/survey/options.ts has a row for each file').toEqual(
      named,
    );
  });

  test.each(SHIPPED)(
    '%s ships as an example, under the id it has at the site',
    (name, inputs, supervision) => {
      const board = shippedBoard(name, 'b7');
      expect(board).toMatchObject({ id: 'b7', generic: true });
      expect(shippedBoard(name, '').id, 'the id in the file is its name').toBe(name);
      expect(board.inputs).toHaveLength(inputs);
      expect(board.supervision?.style ?? 'none').toBe(supervision);
    },
  );

  test('quantities are in SI units', () => {
    const board = shippedBoard('six-paired');
    expect(board.supply).toEqual({ kind: 'dc', accepts: { fromVolts: 11.4, toVolts: 15 }, maximumAmps: 2 });
    expect(board.aux).toMatchObject({ amps: 0.75, mainsTolerance: 0.05, dropFromBatteryVolts: 0.4 });
    expect(board.battery).toMatchObject({ chargeAmps: 0.3, capacityAmpHours: 7 });
    expect(board.sounder?.limitSeconds).toBe(900);
    expect(board.responseSeconds).toBe(0.3);
  });

  test('sounder and battery may be none, and unused parts left out', () => {
    const bare = text.replace(/^sounder:.*$/m, 'sounder: none').replace(/^battery:.*\n/m, '');
    const read = parseBoard(bare, 'board.yaml', '');
    expect(read).toMatchObject({ ok: true, board: { id: 'six-paired', sounder: null, battery: null } });
  });

  test.each<[string, [string, string][], string]>([
    ['an AC supply', [['kind: dc', 'kind: ac']], 'supply.kind'],
    ['a bare current', [['maximum: 2 A', 'maximum: 2']], 'supply.maximum'],
    [
      'a supply range upside down',
      [['from: 11.4 V, to: 15 V', 'from: 15 V, to: 11.4 V']],
      'supply.accepts.to',
    ],
    ['thresholds that overlap', [['closedBelow: 0.8 V', 'closedBelow: 2.4 V']], 'sensing.openAbove'],
    ['a threshold that is never reached', [['reference: 3.3 V', 'reference: 1.8 V']], 'sensing.openAbove'],
    ['the same input twice', [['id: "2"', 'id: "1"']], 'inputs.1.id'],
    ['a terminal used twice', [['terminal: I2', 'terminal: I1']], 'inputs.2.terminal'],
    ['an input on a common', [['terminal: I2', 'terminal: C3']], 'inputs.2.terminal'],
    ['terminals upside down', [['from: 26 AWG, to: 16 AWG', 'from: 16 AWG, to: 26 AWG']], 'terminals.to'],
    [
      'two resistors, one given',
      [['supervision: none', 'supervision: {style: two-resistor, resistor: 4k7, window: 10 %}']],
      'supervision.alarmResistor',
    ],
    ['a word where a group belongs', [['supervision: none', 'supervision: some']], 'supervision'],
    ['a part of a group missing', [['positive: S+, ', '']], 'sounder.positive'],
    ['an unknown field', [['response:', 'reply:']], 'reply'],
    ['another format', [['board@1', 'board@2']], 'format'],
  ])('%s is refused', (_title, changes, field) => {
    expect(fields(...changes)).toContain(field);
  });
});
