import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readJob } from '../../source/job/read-job.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { run } from '../commands/run.ts';
import { drive } from '../drive.ts';
import { SMALL } from '../procedure/small-procedure.ts';
import { scale } from '../scale.ts';
import { smallJob } from './small-job.ts';

const SEED = 6;
const steps = SMALL.steps.map((step) => step.id);
const anyText = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc.string(),
  fc.constantFrom('1', 'OL', '0 V', '-', '1e309', 'NaN'),
);
const anyStep = fc.oneof(fc.constantFrom(...steps), anyText);
const field = fc.oneof(fc.constantFrom('word', 'sweep', 'way', 'found', '__proto__', 'constructor'), anyText);
const value = fc.oneof(
  anyText,
  fc.double(),
  fc.record({ greatest: anyText, at: fc.oneof(fc.constant('a'), anyText), points: fc.double() }),
  fc.record({
    greatest: fc.constant('0 V'),
    at: fc.constant('a'),
    points: fc.integer({ min: -1, max: 100 }),
  }),
);
const action = fc.record(
  {
    do: fc.constantFrom(
      'start-shift',
      'begin',
      'confirm',
      'confirm',
      'confirm',
      'fail',
      'deviate',
      'reopen',
      'doubt',
      'away',
      'pause',
      'leave',
      'note',
      'close',
      'correct',
    ),
    step: anyStep,
    values: fc.dictionary(field, value, { maxKeys: 3 }),
    name: anyText,
    instrument: anyText,
    reason: anyText,
    residualRisk: anyText,
    text: anyText,
    where: anyText,
    forTime: fc.oneof(fc.constantFrom('5 min', '1 h', '2 h'), anyText),
    by: fc.oneof(fc.constantFrom('p1', 'p2'), anyText),
    acknowledge: fc.array(fc.constantFrom('looks-like-a-code', 'typed-too-soon', 'x')),
    signatures: fc.array(fc.record({ name: anyText, role: anyText })),
    set: fc.array(fc.record({ path: anyText, value: fc.jsonValue() }), { maxLength: 2 }),
  },
  { requiredKeys: ['do'] },
);
// With only the fields that its kind takes, so that most of them get past the door.
const TAKES: Record<string, string[]> = {
  'start-shift': ['name', 'instrument'],
  begin: ['step'],
  confirm: ['step', 'values'],
  fail: ['step', 'reason'],
  deviate: ['step', 'reason', 'residualRisk'],
  reopen: ['step', 'reason'],
  doubt: [],
  away: ['where', 'forTime'],
  pause: ['reason'],
  leave: ['values'],
  note: ['text'],
  close: ['signatures'],
  correct: ['reason', 'set'],
};
const fitting = action.map((given) => {
  const fields = given as Record<string, unknown>;
  const takes = [...(TAKES[given.do] ?? []), 'by', 'acknowledge'].filter((key) => key in fields);
  return Object.fromEntries([['do', given.do], ...takes.map((key) => [key, fields[key]])]);
});

describe('hostile actions', { timeout: 300_000 }, () => {
  test('whatever is given, the answer is one of four, and the record stays whole and replays', async () => {
    const small = smallJob();
    small.job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
    await drive(small.job.next(), (one) => small.job.act(one), {
      until: (next) => next.open[0]?.id === 'measure.z1',
    });
    const answers = new Map<string, number>();
    fc.assert(
      fc.property(fc.oneof(fitting, action, fc.jsonValue()), (given) => {
        const count = small.job.lastRecord?.n;
        const state = small.job.state;
        const acted = small.job.act(given);
        const shape = ['malformed', 'challenge', 'refused', 'outcome'].filter((key) => key in acted);
        expect(shape).toHaveLength(1);
        answers.set(shape[0] ?? '', (answers.get(shape[0] ?? '') ?? 0) + 1);
        if ('malformed' in acted || 'challenge' in acted) {
          expect(small.job.lastRecord?.n).toBe(count);
          expect(small.job.state).toBe(state);
        }
        expect(small.job.state.job).toBe('open');
      }),
      { numRuns: scale(5000, 0.1), seed: SEED },
    );
    expect([...answers.keys()].sort()).toEqual(expect.arrayContaining(['malformed', 'outcome', 'refused']));
    expect(verifyJournal(small.dir).outcome).toBe('open');
    expect(canonicalJson(readJob(small.dir).state as unknown as Json)).toBe(
      canonicalJson(small.job.state as unknown as Json),
    );
  });

  test('lines of noise on standard input never end the program with a defect', async () => {
    const small = smallJob();
    small.job.close();
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.oneof(
            anyText,
            fc.json(),
            fitting.map((given) => JSON.stringify(given)),
          ),
          { maxLength: 8 },
        ),
        async (lines) => {
          const input = lines.map((line) => line.replaceAll(/[\n\r]/g, ' ')).join('\n');
          const { code, out, err } = await run(['act', small.dir, '-'], { input });
          expect([0, 2, 3]).toContain(code);
          expect(err).toBe('');
          const answered = input.split('\n').filter((line) => line.trim() !== '').length;
          expect(out === '' ? 0 : out.split('\n').length).toBe(answered);
        },
      ),
      { numRuns: scale(600, 0.08), seed: SEED },
    );
    expect(verifyJournal(small.dir).outcome).toBe('open');
  });
});
