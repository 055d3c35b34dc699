import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { sayFall } from '../../source/procedure/fall-words.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import type { Step } from '../../source/procedure/step.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from './demo-plan.ts';

const demo = buildProcedure(demoPlan());
const card = (id: string): Step => demo.steps.find((step) => step.id === id)!;
const judge = (id: string, values: Record<string, unknown>) =>
  judgeProof(card(id), { ...answersTo(card(id)), ...values });
const verdictOf = (id: string, values: Record<string, unknown>) => {
  const judged = judge(id, values);
  return judged.ok ? judged.verdict : 'malformed';
};

describe('a time is a time', () => {
  test.each([
    '18:00',
    '1800',
    '6 pm',
    'tomorrow 18:00',
    '24 hours from now',
    '18.30',
    'Monday',
    '2026-12-01',
  ])('%s', (until) => expect(verdictOf('centre.on-test', { until })).toBe('passed'));
  test.each(['ab', 'later', '99', '25:70'])('not %s', (until) =>
    expect(verdictOf('centre.on-test', { until })).toBe('malformed'),
  );
});

describe('a count is a whole number, and the survey’s', () => {
  const { wires } = answersTo(card('survey.inside'));
  test('the same passes, one fewer does not, and says both', () => {
    expect(verdictOf('survey.inside', {})).toBe('passed');
    const judged = judge('survey.inside', { wires: `${Number(wires) - 1}` });
    expect(judged).toMatchObject({ ok: true, verdict: 'failed' });
    const counted = judged.ok && judged.fields.find(({ field }) => field === 'wires');
    expect(counted && sayFall(counted.fall)).toBe(
      `${Number(wires) - 1} counted, and the survey has ${wires}`,
    );
  });
  test.each(['5x5', '-3', '3.5', 'many'])('not %s', (typed) =>
    expect(verdictOf('survey.inside', { wires: typed })).toBe('malformed'),
  );
});

test('photographs are at least one, or the reason why there is none', () => {
  expect(verdictOf('survey.inside', { photos: '0' })).toBe('malformed');
  expect(verdictOf('survey.inside', { photos: '-' })).toBe('malformed');
  expect(verdictOf('survey.inside', { photos: '3' })).toBe('passed');
  expect(verdictOf('survey.inside', { photos: 'the owner does not want it' })).toBe('passed');
});

test('a number stands on one label of a card only', () => {
  const label = demo.steps.find((step) => step.stage === 'label' && step.proof.length > 1)!;
  const [first, second] = label.proof.map((proof) => proof.field) as [string, string];
  const judged = judge(label.id, { [first]: '7', [second]: ' 7 ' });
  expect(judged).toEqual({
    ok: false,
    problems: [{ field: second, says: expect.stringContaining(`Label 7 is on ${first} already`) }],
  });
});

describe('figures wildly beyond', () => {
  // 50 V: where this program stops; NFPA 70E and 29 CFR 1910.333(a)(1) begin to ask for more from there on.
  test.each(['130 V', '-130 V', '51 V', '40 V'])('%s on a 12 V output is no finding: it stops', (aux) =>
    expect(verdictOf('survey.baseline', { aux })).toBe('failed'),
  );
  test.each(['0 V', '9.1 V', '-13.5 V', '16 V'])('%s was so before the work: recorded', (aux) =>
    expect(verdictOf('survey.baseline', { aux })).toBe('passed'),
  );
  test('the plan is not agreed over it, and nobody deviates from it', () => {
    expect(card('plan.accept').waitsFor).toContain('survey.baseline');
    expect(card('survey.baseline').hard).toBe(true);
  });
  test('more than 50 V fails on every card that reads volts, also where nothing else is judged', () => {
    for (const step of demo.steps) {
      for (const proof of step.proof) {
        if (proof.kind !== 'reading' || (proof.of !== 'volts-dc' && proof.of !== 'volts-ac')) continue;
        const judged = judgeProof({ proof: [proof] }, { [proof.field]: '60 V' });
        expect(judged, `${step.id} ${proof.field}`).toMatchObject({ ok: true, verdict: 'failed' });
      }
    }
  });
});

describe('the first answer that decides', () => {
  test('what comes after it is not asked, what comes before it is', () => {
    const judged = judgeProof(card('isolate.battery.1'), { metal: 'on' });
    expect(judged).toMatchObject({ ok: true, verdict: 'failed' });
    expect(judged.ok && judged.fields.map(({ field }) => field)).toEqual(['metal']);
    expect(judgeProof(card('isolate.battery.1'), { covers: 'bare' }).ok).toBe(false);
  });
  test('nothing passes by being left out', () => {
    for (const step of demo.steps) {
      for (const proof of step.proof) {
        if (proof.kind === 'reading' && (proof.when || proof.unless)) continue;
        const { [proof.field]: _, ...rest } = answersTo(step);
        expect(judgeProof(step, rest).ok, `${step.id} ${proof.field}`).toBe(false);
      }
    }
  });
});

describe('a sweep that met nothing', () => {
  const prove = card('supply.prove');
  const sweep = prove.proof.find((proof) => proof.kind === 'sweep')!;
  const points = sweep.kind === 'sweep' ? sweep.points.length : 0;
  test('names no place', () =>
    expect(verdictOf(prove.id, { [sweep.field]: { greatest: '0.03 V', at: 'nowhere', points } })).toBe(
      'passed',
    ));
  test('but a voltage was met somewhere', () =>
    expect(verdictOf(prove.id, { [sweep.field]: { greatest: '12 V', at: 'nowhere', points } })).toBe(
      'malformed',
    ));
});
