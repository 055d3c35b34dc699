import { expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import type { Proof, ReadingProof, Step, SweepProof } from '../../source/procedure/step.ts';
import { answersTo } from '../drive.ts';
import { report } from '../scale.ts';
import { demoPlan } from './demo-plan.ts';

const procedures = [
  buildProcedure(demoPlan()),
  buildProcedure(demoPlan((text) => text.replace('eight-paired', 'twelve-supervised'), 'twelve-supervised')),
];

type Windowed = ReadingProof | SweepProof;
type Outside = {
  readonly step: Step;
  readonly proof: Windowed;
  readonly side: 'below' | 'above';
  readonly value: number;
};

/** Just outside what lets a step pass, on each side that has a limit. */
function outsideOf(step: Step, proof: Proof): Outside[] {
  if (proof.kind !== 'reading' && proof.kind !== 'sweep') return [];
  const judged = proof.kind === 'sweep' || proof.danger ? proof : null;
  const limits = proof.kind === 'reading' && proof.usable ? proof.usable : judged;
  if (!limits) return [];
  const by = proof.of === 'ohms' ? 1 : 0.05;
  const below = limits.min !== null && (limits.min > 0 || proof.of === 'volts-dc') ? limits.min - by : null;
  const above = limits.max === null ? null : limits.max + by;
  const bad: Outside[] = [];
  if (below !== null && (below >= 0 || proof.of === 'volts-dc'))
    bad.push({ step, proof, side: 'below', value: below });
  if (above !== null) bad.push({ step, proof, side: 'above', value: above });
  return bad;
}

function answersWith({ step, proof, value }: Outside) {
  const typed = `${value} ${proof.unit}`;
  const answers = answersTo(step);
  // A sweep that met too much is answered with the second reading as well, which did not collapse.
  const again = step.proof.find(
    (one) => one.kind === 'reading' && one.when && 'sweep' in one.when && one.when.sweep === proof.field,
  );
  if (again) answers[again.field] = '40 V';
  answers[proof.field] =
    proof.kind === 'sweep' ? { greatest: typed, at: proof.points[0]!, points: proof.points.length } : typed;
  return answers;
}

/** The same step with that window open on both sides. */
function opened({ step, proof }: Outside): Step {
  const wide = { min: Number.NEGATIVE_INFINITY, max: Number.POSITIVE_INFINITY };
  const open: Windowed =
    proof.kind === 'sweep'
      ? { ...proof, ...wide }
      : { ...proof, ...wide, usable: wide, danger: false, open: 'may' };
  return {
    ...step,
    proof: step.proof
      .filter((one) => !(one.kind === 'reading' && (one.agreesWith?.field === proof.field || one.when)))
      .map((one) => {
        if (one !== proof) return one;
        if (open.kind !== 'reading') return open;
        const { agreesWith: _, ...alone } = open;
        return alone;
      }),
  };
}

test('just outside each window that judges, the step does not pass; with the window opened it would', () => {
  const outside = procedures.flatMap((procedure) =>
    procedure.steps.flatMap((step) => step.proof.flatMap((proof) => outsideOf(step, proof))),
  );
  for (const one of outside) {
    const name = `${one.step.id} ${one.proof.field} ${one.side} ${one.value}`;
    const asked = one.proof.kind === 'reading' && one.proof.when;
    if (asked) continue;
    const judged = judgeProof(one.step, answersWith(one));
    expect(judged.ok && judged.verdict, `${name}: ${JSON.stringify(judged).slice(0, 300)}`).toBe('failed');
    const mutant = opened(one);
    const fields = new Set(mutant.proof.map((proof) => proof.field));
    const answers = Object.fromEntries(
      Object.entries(answersWith(one)).filter(([field]) => fields.has(field)),
    );
    const letThrough = judgeProof(mutant, answers);
    expect(letThrough.ok && letThrough.verdict, `${name}, opened`).not.toBe('failed');
  }
  report('Windows that judge', [{ sides: outside.length, caught: outside.length }]);
  expect(outside.length).toBeGreaterThan(80);
});
