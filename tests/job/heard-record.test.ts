import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { detailOf } from '../../source/job/history-detail.ts';
import { card, seen } from '../../source/procedure/card.ts';
import { SMALL } from '../procedure/small-procedure.ts';
import { again, smallJob } from './small-job.ts';

const AT = { board: 'b1', input: '3', detector: 'hatch' };
const WALK = card('survey', {
  id: 'survey.walk',
  title: 'Work the hatch',
  why: 'It must report.',
  proof: [seen('worked', 'Hatch worked', AT, 'open'), seen('restored', 'Hatch restored', AT, 'closed')],
});
const HEARD = {
  worked: { state: 'open', at: '2026-05-04T10:03:12.250Z', others: [], changes: 2, deafSeconds: 0 },
  restored: { state: 'closed', at: '2026-05-04T10:03:15.000Z', others: [], changes: 2, deafSeconds: 0 },
} as const;
const small = () => {
  const made = smallJob({ ...SMALL, steps: [WALK, ...SMALL.steps] });
  made.job.act({ do: 'start-shift', name: 'Nadia', instrument: 'The meter of this van' });
  return made;
};

describe('heard and confirmed', () => {
  test('stand apart in the record, come back by replay, and are told in words', () => {
    const made = small();
    const values = { worked: 'open', restored: 'closed' };
    expect(made.job.act({ do: 'confirm', step: WALK.id, values, heard: HEARD })).toMatchObject({
      outcome: 'passed',
    });
    const job = again(made);
    const [result] = job.results.get(WALK.id) ?? [];
    expect(result?.values.worked).toMatchObject({ typed: 'open', heard: HEARD.worked });
    job.close();
    const entry = [...readHistory(made.dir, { step: WALK.id })].at(-1)!;
    expect(entry.says).toContain('worked open (heard open at 10:03:12 UTC)');
    expect(detailOf(entry).join('\n')).toContain(
      'worked: open, passed, heard open at 2026-05-04T10:03:12.250Z',
    );
  });

  test('what a person saw counts, also where something else was heard', () => {
    const made = small();
    const heard = { worked: { ...HEARD.worked, state: 'nothing', at: null, others: ['b1/5'], changes: 0 } };
    const acted = made.job.act({
      do: 'confirm',
      step: WALK.id,
      values: { worked: 'closed', restored: 'closed' },
      heard,
    });
    expect(acted).toMatchObject({ outcome: 'failed' });
    expect(made.job.results.get(WALK.id)?.[0]?.values.worked).toMatchObject({
      typed: 'closed',
      heard: heard.worked,
    });
  });

  test('without hearing a record is as it was', () => {
    const made = small();
    made.job.act({ do: 'confirm', step: WALK.id, values: { worked: 'open', restored: 'closed' } });
    const journal = readFileSync(join(made.dir, 'journal.jsonl'), 'utf8');
    expect(journal).not.toContain('"heard"');
  });

  test.each([
    [{ worked: { ...HEARD.worked, state: 'ajar' } }],
    [{ worked: { ...HEARD.worked, at: '\u001b[2J' } }],
    [{ worked: { ...HEARD.worked, others: ['b1/\u001b[2J'] } }],
    [{ worked: { ...HEARD.worked, topic: 'secret/place' } }],
    [{ worked: { ...HEARD.worked, changes: -1 } }],
  ])('%j is not taken, and nothing is recorded', (heard) => {
    const made = small();
    const before = made.job.head.count;
    const acted = made.job.act({
      do: 'confirm',
      step: WALK.id,
      values: { worked: 'open', restored: 'closed' },
      heard,
    });
    expect(acted).toHaveProperty('malformed');
    expect(made.job.head.count).toBe(before);
  });
});
