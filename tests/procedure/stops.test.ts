import { expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { lookUp } from '../../source/procedure/lookup.ts';
import { STOPS } from '../../source/procedure/stop-table.ts';
import { STOP_STEPS, STOPPING_ANSWERS } from '../../source/procedure/stops.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

/** Words after which nobody would go on. What an answer says of one wire, part or join alone is not among them. */
const STOPS_WORK =
  /\b(stop(?! it)|stops|may not go on|go no further|hands off|no power|nothing is powered down|nothing goes on|must not|leave it unplugged|not be left|lid stays shut|stays on( today)?:|no wire goes|can short|is a short|each keeps|touch (nothing|none)|connect (it to )?nothing|lay nothing|touch no battery|take another way|stop it\b|do not leave it so|job stays open|until people are protected|nothing else opens this|without metal)/i;

/** Every answer that does not pass, of every card of many sites: by what it is, with what follows from it. */
function failing() {
  const all = new Map<
    string,
    { step: string; field: string; option: string; follows: string; stops: string | undefined }
  >();
  for (let seed = 0; seed < scale(800, 0.4); seed += 1) {
    const { survey, boards } = randomSurvey(seed);
    for (const step of buildProcedure(planChangeover(survey, boards)).steps)
      for (const proof of step.proof)
        for (const { id: option, leads, follows = '', stops } of proof.kind === 'choice' ? proof.options : [])
          if (leads === 'fail')
            all.set(`${step.id.replace(/\d+/g, '#')} ${proof.field.replace(/\d+/g, '#')} ${option}`, {
              step: step.id,
              field: proof.field,
              option,
              follows,
              stops,
            });
  }
  return [...all.values()];
}

test('an answer whose words stop the work is in the table of stops, and the table holds no other', () => {
  const answers = failing().filter(({ step }) => !STOP_STEPS.some(({ id }) => id === step));
  const said = answers.filter(({ follows }) => STOPS_WORK.test(follows));
  expect(said.filter(({ stops }) => stops === undefined)).toEqual([]);
  expect(answers.filter(({ stops, follows }) => stops !== undefined && !STOPS_WORK.test(follows))).toEqual(
    [],
  );
  const rows = STOPPING_ANSWERS.filter(
    ([on, code]) =>
      !answers.some(
        ({ step, field, option, stops }) =>
          on.step.test(step) && on.field.test(field) && on.option === option && stops === code,
      ),
  );
  expect(rows.map(([on]) => `${on.step} ${on.field} ${on.option}`)).toEqual([]);
});

test('each reason to stop everything has a step of its own that asks who found what, or is answered where it was given', () => {
  for (const { reach, opener } of Object.values(STOPS)) {
    if (opener === null) continue;
    expect(reach).toBe('all');
    const step = STOP_STEPS.find(({ id }) => id === opener);
    expect(step?.proof.some((proof) => proof.kind === 'text' && proof.asksWho)).toBe(true);
    expect(step?.proof.some((proof) => proof.kind === 'text' && proof.minLength >= 4)).toBe(true);
  }
});

// 29 CFR 1910.333(b)(2)(v): nothing is energised before what could be shorted was looked at. Before this, a second board that no
// rewiring waited for got power although something touched it.
test('no power while something touches a board, whether or not a wire lands on it', () => {
  const powered = { boards: 0, several: 0 };
  for (let seed = 0; seed < scale(800, 0.2); seed += 1) {
    const { survey, boards } = randomSurvey(seed);
    const procedure = buildProcedure(planChangeover(survey, boards));
    const { dependents } = lookUp(procedure);
    const mounts = procedure.steps.filter(({ id }) => id.startsWith('mount.'));
    if (!procedure.steps.some(({ id }) => id === 'power.adapter')) continue;
    powered.boards += mounts.length;
    powered.several += mounts.length > 1 ? 1 : 0;
    for (const { id } of mounts)
      expect([seed, id, dependents.get(id)?.includes('power.adapter')]).toEqual([seed, id, true]);
  }
  expect(powered.several).toBeGreaterThan(0);
});
