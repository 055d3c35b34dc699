import { describe, expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { AS_FOUND } from '../../source/procedure/present.ts';
import { type ChoiceProof, STAGES, type Step } from '../../source/procedure/step.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';
import { demoPlan } from './demo-plan.ts';

// Also cards that only some sites have: those of the demo, of the demo with mains inside, and of random sites.
const SITES = scale(600, 0.25);
const mainsFed = demoPlan((text) => text.replace('feed: plug-in-transformer', 'feed: mains-in-enclosure'));
const random = Array.from({ length: SITES }, (_, seed) => {
  const { survey, boards } = randomSurvey(seed);
  return planChangeover(survey, boards);
});
const demo = buildProcedure(demoPlan());
const steps = [demo, buildProcedure(mainsFed), ...random.map((plan) => buildProcedure(plan))].flatMap(
  (procedure) => procedure.steps,
);

test('the demo has every stage', () => {
  expect(new Set(demo.steps.map((step) => step.stage))).toEqual(new Set(STAGES));
});

test(`every card of ${SITES} sites has an action for its title, a purpose, a source for each caution, and fields of their own names`, () => {
  for (const step of steps) {
    expect(step.title, step.id).toMatch(/^[A-Z].*[^.]$/);
    expect(step.why, step.id).toMatch(/\.$/);
    expect(step.proof.length, step.id).toBeGreaterThan(0);
    expect(new Set(step.proof.map((proof) => proof.field)).size, step.id).toBe(step.proof.length);
    for (const caution of step.cautions) expect(caution.source, `${step.id} ${caution.id}`).not.toBe('');
  }
});

describe('an answer', () => {
  const choices = (of: readonly Step[]) =>
    of.flatMap(({ id, proof }) =>
      proof.flatMap((one) => (one.kind === 'choice' ? [{ step: id, ...one }] : [])),
    );
  const failing = (of: readonly (ChoiceProof & { step: string })[]) =>
    of.flatMap(({ step, field, options }) =>
      options
        .filter((option) => option.leads === 'fail')
        .map(({ id, follows }) => ({ where: `${step} ${field} ${id}`, id, follows })),
    );
  const all = choices(steps);

  test('is one of several, and none is the default', () => {
    for (const { step, field, options } of all) expect(options.length, `${step} ${field}`).toBeGreaterThan(1);
  });

  test('that does not pass says what follows from it, and never to read again what was not measured', () => {
    const answers = failing([...all, { step: 'any', ...AS_FOUND }]);
    expect(answers.length).toBeGreaterThan(100);
    for (const { where, follows } of answers) {
      expect(follows, where).toMatch(/^[A-Z].{20,}\.$/);
      expect(follows, where).not.toMatch(/zero the|leads and read/i);
    }
  });

  test('that does not pass has a sentence of its own', () => {
    const shared = failing(all).filter(
      ({ id, follows }) =>
        !['cannot', 'not-sure'].includes(id) &&
        /What waits for this stays shut\. Put it right/.test(follows ?? ''),
    );
    expect(shared).toEqual([]);
  });

  test('where mains may be names the electrician and the lid', () => {
    const { follows } = failing(choices(buildProcedure(mainsFed).steps)).find(({ id }) => id === 'not-yet')!;
    expect(follows).toMatch(/lid stays shut.*licensed electrician isolates, proves and signs/);
  });
});

test('a step that was reopened is not called one that was never finished', () => {
  expect(AS_FOUND.label).not.toMatch(/never|finished|begun/);
});
