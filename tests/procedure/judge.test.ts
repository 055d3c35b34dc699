import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from './demo-plan.ts';

const demo = buildProcedure(demoPlan());
const card = (id: string) => demo.steps.find((step) => step.id === id)!;
const judge = (id: string, change: Record<string, unknown>) => {
  const judged = judgeProof(card(id), { ...answersTo(card(id)), ...change });
  if (!judged.ok) throw new Error(JSON.stringify(judged.problems));
  return judged;
};
const fieldOf = (judged: ReturnType<typeof judge>, field: string) =>
  judged.fields.find((one) => one.field === field);

describe('the full proof of dead', () => {
  const sweep = (greatest: string) => {
    const proof = card('supply.prove').proof.find((one) => one.field === 'ac');
    if (proof?.kind !== 'sweep') throw new Error('no sweep');
    return { greatest, at: proof.points[3]!, points: proof.points.length };
  };

  test('zeros are the normal answer and meet no challenge', () => {
    const judged = judge('supply.prove', {});
    expect([judged.verdict, judged.challenges]).toEqual(['passed', []]);
  });

  // 29 CFR 1910.333(b)(2)(iv)(B): the test looks for induced voltage too; the 0.5 V and 50 V are this program's.
  test('an induced voltage that collapses under load is recorded and passes', () => {
    const judged = judge('supply.prove', { ac: sweep('9.4 V'), 'ac-loaded': '0.1 V' });
    expect(judged.verdict).toBe('passed');
    expect(fieldOf(judged, 'ac')).toMatchObject({ verdict: 'unexpected', milli: 9400 });
  });

  test('a voltage that stands under load is real, and stops the work', () => {
    expect(judge('supply.prove', { ac: sweep('9.4 V'), 'ac-loaded': '9.1 V' }).verdict).toBe('failed');
  });

  test('above 50 V nothing is loaded: it stops whatever the second reading says', () => {
    expect(judge('supply.prove', { ac: sweep('61 V'), 'ac-loaded': '0 V' }).verdict).toBe('failed');
  });

  test('a sweep that met too much is asked for its second reading', () => {
    const judged = judgeProof(card('supply.prove'), {
      ...answersTo(card('supply.prove')),
      ac: sweep('9.4 V'),
    });
    expect(judged).toMatchObject({ ok: false, problems: [{ field: 'ac-loaded' }] });
  });

  // HSE GS38 and HSG85: prove, test, prove. An instrument that has failed in between proves nothing.
  test('an instrument that says something else afterwards has proved nothing', () => {
    const judged = judge('supply.prove', { 'known-dc-before': '9.2 V', 'known-dc-after': '7.9 V' });
    expect(judged.verdict).toBe('failed');
    expect(judge('supply.prove', { 'known-dc-before': '0 V', 'known-dc-after': '0 V' }).verdict).toBe(
      'failed',
    );
  });

  test('once the instrument fails on its known source, or a voltage is met, nothing more is asked', () => {
    const given = answersTo(card('supply.prove'));
    const until = (last: string, change: object) => {
      const ids = Object.keys(given);
      const kept = ids.slice(0, ids.indexOf(last) + 1).map((id) => [id, given[id]]);
      return judgeProof(card('supply.prove'), { ...Object.fromEntries(kept), ...change });
    };
    expect(until('known-dc-after', { 'known-dc-after': '0 V' })).toMatchObject({
      ok: true,
      verdict: 'failed',
    });
    expect(until('dc', { dc: sweep('60 V') })).toMatchObject({ ok: true, verdict: 'failed' });
    expect(until('dc', { dc: sweep('12.6 V') })).toMatchObject({ ok: true, verdict: 'failed' });
    // An alternating one may be induced: what tells is still to be read.
    expect(until('ac', { ac: sweep('12.6 V') }).ok).toBe(false);
  });

  test('fewer points than there are is no proof', () => {
    expect(judge('supply.prove', { ac: { ...sweep('0 V'), points: 2 } }).verdict).toBe('failed');
  });
});

describe('OL in volts is more than the range shows, and no open circuit', () => {
  test('it counts as beyond 50 V: it fails, ends its card and hands come off', () => {
    const aux = judge('survey.baseline', { aux: 'OL' });
    expect(fieldOf(aux, 'aux')).toMatchObject({
      verdict: 'failed',
      fall: { is: 'beyond-stop' },
      milli: null,
      open: false,
    });
    const step = card('supply.prove');
    const proof = step.proof.find((one) => one.field === 'ac');
    if (proof?.kind !== 'sweep') throw new Error('no sweep');
    const all = answersTo(step);
    const until = Object.keys(all).slice(0, Object.keys(all).indexOf('ac'));
    const before = Object.fromEntries(until.map((field) => [field, all[field]]));
    const ac = { greatest: 'OL', at: proof.points[1], points: proof.points.length };
    // Nothing is loaded and read again where nobody knows how much stands there.
    expect(judgeProof(step, { ...before, ac })).toMatchObject({ ok: true, verdict: 'failed' });
  });

  test('ohms that follow it on a card are worth nothing', () => {
    const judged = judge('measure.z1', { dc: { greatest: 'OL', at: 'c1/1', points: 2 } });
    expect(fieldOf(judged, 'rest')?.fall.is).toBe('live');
  });
});

test('a standing 12 V of a forgotten battery fails a sweep of DC', () => {
  const proof = card('supply.prove').proof.find((one) => one.field === 'dc');
  if (proof?.kind !== 'sweep') throw new Error('no sweep');
  const judged = judge('supply.prove', {
    dc: { greatest: '12.6 V', at: 'old:B+', points: proof.points.length },
  });
  expect(judged.verdict).toBe('failed');
});

test('outside the expected window alone a reading passes and is marked; outside the usable one it fails', () => {
  const id = 'resistors.z2';
  const field = 'bare.z2.rest';
  expect(fieldOf(judge(id, { [field]: '40 ohm' }), field)?.verdict).toBe('unexpected');
  expect(judge(id, { [field]: '40 ohm' }).verdict).toBe('passed');
  expect(judge(id, { [field]: '2.2k' }).verdict).toBe('failed');
  expect(judge(id, { [field]: 'OL' }).verdict).toBe('failed');
});

test('as found nothing is judged, and the step is recorded', () => {
  const judged = judge('measure.found', { 'found.z1.rest': '4k7' });
  expect(judged.verdict).toBe('recorded');
  expect(fieldOf(judged, 'found.z1.rest')).toMatchObject({
    verdict: 'recorded',
    milli: 4_700_000,
    open: false,
  });
});

test('a value that fits but for the kilo is asked about', () => {
  const judged = judge('measure.z6', { rest: '2.2' });
  expect(judged.challenges.map((one) => one.name)).toEqual(['wrong-multiple']);
});

test('an adapter that gives AC, or its polarity reversed, does not pass', () => {
  expect(judge('prepare.adapter.b1', { ac: '16.4 V', dc: '0 V' }).verdict).toBe('failed');
  expect(judge('prepare.adapter.b1', { dc: '-14.2 V' }).verdict).toBe('failed');
  expect(judge('prepare.adapter.b1', { polarity: 'reversed' }).verdict).toBe('failed');
});

test('what cannot be read is a problem by field, and nothing is judged', () => {
  const judged = judgeProof(card('measure.z1'), { rest: 'about two k', surplus: '1' });
  if (judged.ok) throw new Error('judged');
  expect(judged.problems.map((one) => one.field)).toEqual([
    'surplus',
    'dc',
    'ac',
    'rest',
    'active.shutter',
    'active.side-door',
  ]);
  for (const { says } of judged.problems) expect(says).toMatch(/\S/);
});
