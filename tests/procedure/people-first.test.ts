import { expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { lookUp } from '../../source/procedure/lookup.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

// Whoever is to be told is told before the power goes, whoever takes it away: common practice, no source; of life safety
// NFPA 72-2016 10.20. On the first build the electrician's own step waited for neither occupants, insurer, plan nor sounder.
test('no feed falls, by the worker or by an electrician, before centre, occupants, plan, sounder and life safety are settled', () => {
  const met = new Set<string>();
  for (let seed = 0; seed < scale(800, 0.4); seed += 1) {
    const { survey, boards } = randomSurvey(seed);
    const procedure = buildProcedure(planChangeover(survey, boards));
    if (procedure.incomplete) continue;
    const { dependents, steps } = lookUp(procedure);
    const people = procedure.steps.filter(({ id }) =>
      /^(plan\.accept|notify\.occupants|centre\.on-test|sounder\.look|sounder\.plan\.|life-safety\.independent|impairment\.open)/.test(
        id,
      ),
    );
    const feeds = procedure.steps.filter(
      ({ id, effect }) => id === 'electrician.record' || id.startsWith('output.') || effect === 'isolate',
    );
    for (const feed of feeds) {
      if (feed.id.startsWith('output.')) {
        expect(dependents.get('notify.occupants')).toContain(feed.id);
        continue;
      }
      met.add(feed.id);
      for (const person of people)
        expect(dependents.get(person.id), `seed ${seed}: ${feed.id} waits for ${person.id}`).toContain(
          feed.id,
        );
    }
    // A supply elsewhere needs what only the main isolation gives, and so waits for all of it.
    for (const { id, needs } of procedure.steps) if (/^isolate\./.test(id)) expect(needs).toBe('isolating');
    expect(steps.get('electrician.record')?.acts.length ?? 1).toBe(1);
  }
  expect([...met].sort()).toEqual(['electrician.record', 'supply.isolate']);
});
