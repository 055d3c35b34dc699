import { expect, test } from 'vitest';
import { causesOf } from '../../source/job/causes.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { demoPlan } from '../procedure/demo-plan.ts';

const plan = demoPlan();
const step = buildProcedure(plan).steps.find(({ id }) => id.startsWith('prepare.inputs'))!;

test.each(['open', 'nothing'])(
  'on the bench, where an input shows %s, no cause lies in a cable, a detector or a resistor of the field',
  (shown) => {
    const values = Object.fromEntries(
      step.proof.map((proof) => [
        proof.field,
        proof.kind === 'observation' ? shown : proof.kind === 'text' ? (proof.offers[0] ?? '1') : '',
      ]),
    );
    const judged = judgeProof(step, values);
    const causes = causesOf(step, judged.ok ? judged.fields : [], () => plan);
    expect(causes.map(({ cause }) => cause)).toEqual([
      'stand-in-elsewhere',
      'input-named-otherwise',
      'input-failed',
    ]);
    for (const one of causes) expect(one.try).not.toBe('');
  },
);
