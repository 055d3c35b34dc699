import { describe, expect, test } from 'vitest';
import type { HistoryEntry } from '../../source/job/history.ts';
import { detailOf } from '../../source/job/history-detail.ts';

const reading = {
  kind: 'reading',
  milli: 13600,
  open: false,
  typed: '13.60 V',
  unit: 'V',
  verdict: 'passed',
  window: { min: 11000, max: 15000, usableMin: -30000, usableMax: 30000 },
};

function entry(data: Record<string, unknown>): HistoryEntry {
  return {
    n: 7,
    kind: 'act',
    at: '2026-05-04 10:12 +02:00',
    says: 'Nadia: aux read',
    prev: 'aa',
    sha256: 'bb',
    data,
  } as unknown as HistoryEntry;
}

describe('a record that is opened', () => {
  test('says what was typed, how it was judged and by which window, and nothing that is kept for replay only', () => {
    const lines = detailOf(
      entry({
        boot: '3ea6',
        uptime: 5,
        by: 'p1',
        event: { option: null },
        causes: [],
        step: 'measure.z1',
        note: null,
        values: { aux: reading, feed: { typed: 'plug', verdict: 'passed', window: null } },
      }),
    );
    expect(lines).toEqual([
      'record 7, act, 2026-05-04 10:12 +02:00',
      'Nadia: aux read',
      'step: measure.z1',
      'aux: 13.60 V, passed, expected 11 to 15 V',
      'feed: plug, passed',
      'follows aa',
      'digest bb',
    ]);
  });

  test('tells causes in their words, and one-sided windows as such', () => {
    const open = { ...reading, typed: 'OL', verdict: 'odd', window: { min: 1000, max: null } };
    const low = { ...reading, typed: '0.2', window: { min: null, max: 500 } };
    expect(
      detailOf(
        entry({ causes: [{ cause: 'cut', says: 'The cable may be cut.' }], values: { a: open, b: low } }),
      ),
    ).toEqual(
      expect.arrayContaining([
        'causes: The cable may be cut.',
        'a: OL, odd, expected at least 1 V',
        'b: 0.2, passed, expected at most 0.5 V',
      ]),
    );
  });
});
