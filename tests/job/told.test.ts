import { describe, expect, test } from 'vitest';
import type { TypedValue } from '../../source/job/action.ts';
import { labelsGiven } from '../../source/job/labels.ts';
import { hasInstrumentFailed, tellFailures } from '../../source/job/told.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from '../procedure/demo-plan.ts';
import { SMALL } from '../procedure/small-procedure.ts';
import { smallJob } from './small-job.ts';

const demo = buildProcedure(demoPlan());
const card = (id: string) => demo.steps.find((step) => step.id === id)!;

function told(id: string, changed: Record<string, TypedValue>, without: readonly string[] = []) {
  const all = { ...answersTo(card(id)), ...changed };
  const values = Object.fromEntries(Object.entries(all).filter(([field]) => !without.includes(field)));
  const judged = judgeProof(card(id), values);
  if (!judged.ok) throw new Error(JSON.stringify(judged.problems));
  return { says: tellFailures(card(id), values, judged.fields), judged };
}

const sweep = card('supply.prove').proof.find((proof) => proof.field === 'dc')!;
const points = sweep.kind === 'sweep' ? sweep.points : [];

describe('a proof of dead says which figure failed', () => {
  test('points that are missing, how many, and nothing of a voltage', () => {
    const { says } = told('supply.prove', {
      dc: { greatest: '0.02 V', at: points[0]!, points: points.length - 2 },
    });
    expect(says).toHaveLength(1);
    expect(says[0]).toContain(
      `DC: ${points.length - 2} of ${points.length} points were touched, 2 are missing`,
    );
    expect(says[0]).not.toMatch(/not dead|source/);
  });

  test('a voltage, and at which screw', () => {
    const { says } = told('supply.prove', {
      dc: { greatest: '12.6 V', at: 'old:17', points: points.length },
    });
    expect(says).toEqual([expect.stringContaining('DC: 12.6 V at screw 17. It is not dead there')]);
  });

  // HSE HSG85 and GS38: prove, test, prove: what an instrument said that fails afterwards is worth nothing.
  test('an instrument that fails its second check comes first, and explains nothing else', () => {
    const { says, judged } = told('supply.prove', {
      'known-dc-after': '3 V',
      dc: { greatest: '12 V', at: 'old:17', points: points.length - 2 },
    });
    expect(says).toHaveLength(3);
    expect(says[0]).toMatch(/shows 3 V now.*Nothing that it said counts/);
    expect(hasInstrumentFailed(card('supply.prove'), judged.fields)).toBe(true);
    expect(hasInstrumentFailed(card('supply.prove'), told('supply.prove', {}).judged.fields)).toBe(false);
  });
});

test('a telephone line that is still there is called so', () => {
  const { says } = told('isolate.telephone', { dc: '49 V' });
  expect(says).toEqual([expect.stringMatching(/49 V does not pass\. The line is still connected here/)]);
});

test('an answer that measures nothing is told its own consequence, and blames no battery', () => {
  const { says } = told('isolate.battery.1', { metal: 'on' }, [
    'negative',
    'positive',
    'covers',
    'date',
    'volts',
  ]);
  expect(says).toEqual([
    'Rings, watch and chain: Cannot be taken off. Touch no battery. Somebody without metal on the hands does this step.',
  ]);
  expect(told('survey.scope', { permit: 'not-sure' }).says[0]).toContain('You may not go on until');
  expect(told('centre.on-test', { 'on-test': 'refused' }).says[0]).toContain('You may not go on until');
});

test('130 V on the old output is no matter of an adapter', () => {
  expect(told('survey.baseline', { aux: '130 V' }).says[0]).toMatch(
    /130 V does not pass.*licensed electrician/,
  );
});

test('what passes is told nothing', () => {
  for (const step of demo.steps) expect(told(step.id, {}).says, step.id).toEqual([]);
});

describe('at a job', () => {
  const labels = (field: string) => ({
    field,
    kind: 'text' as const,
    label: field,
    minLength: 1,
    offers: ['1'],
    numeric: true,
    check: { is: 'label' as const },
  });
  const procedure = {
    ...SMALL,
    steps: SMALL.steps
      .filter((step) => step.id.startsWith('label.'))
      .map((step) => ({ ...step, needs: 'any' as const, proof: [labels(step.id.replace('label.', ''))] })),
  };

  test('a number that is on the label of another card is refused, its own card may be done again', () => {
    const { job } = smallJob(procedure);
    job.act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
    const confirm = (step: string, values: Record<string, string>) =>
      job.act({ do: 'confirm', step, values });
    expect(confirm('label.c1', { c1: '7' })).toMatchObject({ outcome: 'passed' });
    expect(confirm('label.c2', { c2: '7' })).toEqual({
      format: 'loopward/acted@1',
      malformed: expect.stringContaining('Label 7 is on c1 already'),
    });
    job.act({ do: 'reopen', step: 'label.c1', reason: 'look again' });
    expect(confirm('label.c1', { c1: '7' })).toMatchObject({ outcome: 'passed' });
    expect([...labelsGiven(job.procedure, job.state, job.results)]).toEqual([['7', 'c1']]);
  });
});
