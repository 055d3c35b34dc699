import { describe, expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { restsOn } from '../../source/procedure/lookup.ts';
import { closeNeeds, counts } from '../../source/procedure/next.ts';
import { initialState } from '../../source/procedure/transition.ts';
import { foldActs } from '../../source/wiring/act-on.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';
import { lead } from './lead.ts';

const SEEDS = scale(400, 0.1);

describe(`procedures of ${SEEDS} random sites, by seed`, () => {
  for (let seed = 0; seed < SEEDS; seed += 1) {
    test(`seed ${seed}`, () => {
      const { survey, boards } = randomSurvey(seed);
      const plan = planChangeover(survey, boards);
      const procedure = buildProcedure(plan);
      const order = new Map(procedure.steps.map((step, place) => [step.id, place]));
      for (const step of procedure.steps) {
        for (const id of restsOn(step)) expect(order.get(id), `${step.id} rests on ${id}`).toBeDefined();
        for (const { step: id } of step.onlyIf) expect(order.get(id)!).toBeLessThan(order.get(step.id)!);
        expect(step.waitsFor.filter((id) => procedure.steps[order.get(id)!]?.repeatable)).toEqual([]);
      }
      // Every conductor at the panel that is not life safety is labelled, lifted at most once, and goes somewhere.
      const acts = procedure.steps.flatMap((step) => step.acts);
      const lifted = acts.flatMap((act) => (act.do === 'lift' ? [act.conductor] : []));
      expect(new Set(lifted).size).toBe(lifted.length);
      const moved = acts.flatMap((act) =>
        act.do === 'lift' || act.do === 'land' || act.do === 'insulate' ? [act.conductor] : [],
      );
      expect(moved.filter((id) => procedure.lifeSafety.conductors.includes(id))).toEqual([]);
      if (procedure.blocked || procedure.incomplete) return;
      const panel = plan.wiring.conductors.filter(
        (one) => one.atPanel && one.screw !== null && !procedure.lifeSafety.conductors.includes(one.id),
      );
      // Off its screw, out of its splice, or free once its resistor is out: nothing is left on the old panel.
      const left = foldActs(plan.wiring, acts).conductors.filter(({ near }) => /^(old|join):/.test(near));
      const stays = (id: string) => plan.connections.some((one) => one.conductor === id && 'stays' in one.to);
      expect(left.filter(({ id }) => panel.some((one) => one.id === id) && !stays(id))).toEqual([]);
      const landed = new Set(acts.flatMap((act) => (act.do === 'land' ? [act.conductor] : [])));
      const toLand = plan.connections.filter(
        ({ to, conductor }) =>
          ('terminal' in to || 'joint' in to) && !procedure.lifeSafety.conductors.includes(conductor),
      );
      expect(toLand.filter((one) => !landed.has(one.conductor)).map((one) => one.conductor)).toEqual([]);
      const { state } = lead(procedure);
      expect(closeNeeds(procedure, state)).toEqual([]);
      expect(counts(procedure, initialState(procedure)).total).toBeGreaterThan(10);
    });
  }
});
