import { readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { GUARDS } from '../../source/procedure/guards.ts';
import { SUPPLY_MOVES } from '../../source/procedure/supply.ts';
import { gatesTable, statechart, withSection } from './developers.ts';

const file = new URL('../../DEVELOPERS.md', import.meta.url);

test('the gates and the statechart in DEVELOPERS.md are those of the machine (UPDATE=1 writes them anew)', () => {
  const text = readFileSync(file, 'utf8');
  const current = withSection(withSection(text, 'gates', gatesTable()), 'statechart', statechart());
  if (process.env.UPDATE === '1') writeFileSync(file, current);
  else expect(text).toBe(current);
});

test('every gate names a rule, and the drawing shows every way that the supply can move', () => {
  for (const guard of GUARDS) expect(guard.rule, guard.code).toMatch(/\d|Dismukes|common practice/);
  const drawing = statechart();
  for (const move of SUPPLY_MOVES) {
    for (const from of move.from)
      expect(drawing, `${from} to ${move.to}`).toContain(`${from} --> ${move.to}`);
    if (move.cause !== 'always') expect(drawing).toContain(move.cause);
  }
});
