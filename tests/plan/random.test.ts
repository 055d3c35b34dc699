import fc from 'fast-check';
import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { evaluateLoop } from '../../source/electrical/loop.ts';
import { computeLifeSafety } from '../../source/plan/life-safety.ts';
import { readField } from '../../source/plan/loops/field.ts';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { planToJson } from '../../source/plan/plan-to-json.ts';
import { planToText } from '../../source/plan/plan-to-text.ts';
import { BOARDS } from '../../source/screens/survey/options.ts';
import { isLifeSafety } from '../../source/site/survey.ts';
import { randomSurvey, shippedBoard, surveyArbitrary } from '../random-survey.ts';
import { report, scale } from '../scale.ts';

const SURVEYS = scale(4000, 0.1);

describe(`${SURVEYS} random surveys (seeds from 0) give a plan or findings`, () => {
  const plans = Array.from({ length: SURVEYS }, (_, seed) => {
    const { survey, boards } = randomSurvey(seed, { fits: seed % 3 !== 0 });
    return { seed, plan: planChangeover(survey, boards) };
  });
  const each = (check: (plan: Plan, seed: number) => void) => {
    for (const { seed, plan } of plans) check(plan, seed);
  };

  test('every conductor of the survey is connected exactly once', () => {
    each((plan, seed) => {
      const cores = plan.survey.cables.flatMap(({ id, cores: of }) =>
        of.map((_, index) => `${id}/${index + 1}`),
      );
      expect(plan.connections.map(({ conductor }) => conductor).sort(), `seed ${seed}`).toEqual(cores.sort());
    });
  });

  test('what serves life safety appears nowhere but where it stays', () => {
    let held = 0;
    each((plan, seed) => {
      const lifeSafety = computeLifeSafety(plan.survey, readField(plan.wiring));
      for (const connection of plan.connections)
        if (lifeSafety.conductors.has(connection.conductor))
          expect([connection.by, 'stays' in connection.to], `seed ${seed}`).toEqual(['untouched', true]);
      const touched = [
        ...plan.circuits.flatMap(({ detectors, fromZone, purpose }) => [
          ...(purpose === 'detection' ? detectors : []),
          fromZone,
        ]),
        ...plan.zones.flatMap(({ id, joins, lift }) => [
          id,
          ...lift.conductors,
          ...joins.flatMap(({ conductors }) => conductors),
        ]),
        ...plan.points.map(({ zone }) => zone),
      ];
      const untouchable = new Set([...lifeSafety.ids, ...lifeSafety.zones, ...lifeSafety.conductors]);
      expect(
        touched.filter((id) => untouchable.has(id)),
        `seed ${seed}`,
      ).toEqual([]);
      held += lifeSafety.ids.size;
      // A second way to say it, straight from the survey: by kind, by zone, by what a core is for.
      const fire = new Set(
        plan.survey.detectors.filter(({ kind }) => isLifeSafety(kind)).map(({ id }) => id),
      );
      const zones = plan.survey.zones.filter(({ detectors }) => detectors.some((id) => fire.has(id)));
      const serves = plan.wiring.conductors.filter(
        ({ for: device, zone }) => fire.has(device ?? '') || zones.some(({ id }) => id === zone),
      );
      const goes = new Map(plan.connections.map(({ conductor, by }) => [conductor, by]));
      expect(
        serves.filter(({ id }) => goes.get(id) !== 'untouched').map(({ id }) => id),
        `seed ${seed}`,
      ).toEqual([]);
    });
    expect(held).toBeGreaterThan(SURVEYS / 20);
  });

  test('a tamper loop that comes back over a sounder’s negative lies on the board that feeds the sounder, and is told', () => {
    let shared = 0;
    each((plan, seed) => {
      const wires = new Map(plan.wiring.conductors.map((one) => [one.id, one]));
      const commons = new Set(
        plan.boards.flatMap(({ id, inputs }) => inputs.map((one) => `${id} ${one.common}`)),
      );
      for (const { conductor, to } of plan.connections) {
        if (!('board' in to) || wires.get(conductor)!.use !== 'sounder-negative') continue;
        if (!commons.has(`${to.board} ${to.terminal}`)) continue;
        shared++;
        const cable = conductor.split('/')[0];
        const fed = plan.connections.find(
          (one) =>
            one.conductor.startsWith(`${cable}/`) && wires.get(one.conductor)!.use === 'sounder-positive',
        )!;
        expect(fed.to, `seed ${seed}`).toMatchObject({ board: to.board });
        const told = plan.findings.find(
          ({ code, about }) => code === 'shared-return' && about[0] === conductor,
        );
        expect(told?.severity, `seed ${seed}`).toBe('caution');
      }
    });
    expect(shared).toBeGreaterThan(SURVEYS / 100);
  });

  test('every other detector reports on exactly one input, and no input is used twice', () => {
    each((plan, seed) => {
      const inputs = plan.circuits.map(({ board, input }) => `${board}/${input}`);
      expect(new Set(inputs).size, `seed ${seed}`).toBe(inputs.length);
      if (plan.findings.some(({ code }) => code === 'too-few-inputs')) return;
      const held = new Set(plan.heldOut.map(({ detector }) => detector));
      const wanted = plan.survey.detectors.map(({ id }) => id).filter((id) => !held.has(id));
      const got = plan.circuits
        .filter(({ purpose }) => purpose === 'detection')
        .flatMap(({ detectors }) => detectors);
      expect([...got].sort(), `seed ${seed}`).toEqual(wanted.sort());
    });
  });

  test('every circuit is whole: with its contacts closed it conducts from screw to screw', () => {
    each((plan, seed) => {
      for (const circuit of plan.circuits) {
        const closed = Object.fromEntries(
          Object.keys(circuit.active).map((id) => [
            id,
            circuit.contact === 'normally-open' ? ('active' as const) : ('rest' as const),
          ]),
        );
        const where = `seed ${seed} ${circuit.board}/${circuit.input} ${circuit.fromZone}`;
        if (circuit.contact === 'unknown') {
          // Only where the survey leaves it open.
          const contacts = plan.survey.detectors.filter(({ id }) => circuit.detectors.includes(id));
          const known = contacts.filter(({ contact }) => contact.startsWith('normally'));
          expect(
            known.length < contacts.length || new Set(known.map(({ contact }) => contact)).size > 1,
            where,
          ).toBe(true);
          continue;
        }
        expect(evaluateLoop(circuit.expression, closed).max, where).toBeLessThan(Number.POSITIVE_INFINITY);
        expect(Object.keys(circuit.active).length, where).toBeGreaterThan(0);
      }
    });
  });

  test('a join stays whole or comes apart, and nothing is spliced to nothing', () => {
    each((plan, seed) => {
      const goes = new Map(plan.connections.map(({ conductor, to }) => [conductor, to]));
      const joins = new Map<string, boolean[]>();
      const joints = new Map<string, number>();
      for (const { id, near } of plan.wiring.conductors) {
        const to = goes.get(id)!;
        if (near.startsWith('join:')) joins.set(near, [...(joins.get(near) ?? []), 'stays' in to]);
        if ('joint' in to) joints.set(to.joint, (joints.get(to.joint) ?? 0) + 1);
      }
      for (const [join, stays] of joins) expect(new Set(stays).size, `seed ${seed} ${join}`).toBe(1);
      for (const [joint, conductors] of joints)
        if (!joint.startsWith('adapter:')) expect(conductors, `seed ${seed} ${joint}`).toBeGreaterThan(1);
      for (const { board, terminal } of plan.circuits)
        expect(
          plan.terminals.some((use) => use.board === board && use.terminal === terminal),
          `seed ${seed} ${board}:${terminal}`,
        ).toBe(true);
    });
  });

  test('the same survey gives the same plan, and JSON holds it', () => {
    for (const { seed, plan } of plans.slice(0, 40)) {
      const { survey, boards } = randomSurvey(seed, { fits: seed % 3 !== 0 });
      const json = JSON.stringify(planToJson(plan));
      expect(JSON.stringify(planToJson(planChangeover(survey, boards)))).toBe(json);
      expect(json).not.toContain('null,null,null,null');
    }
  });

  test('the text never runs over 80 columns', () => {
    for (const { seed, plan } of plans.slice(0, 100))
      for (const line of planToText(plan, 80).split('\n'))
        expect(stringWidth(line), `seed ${seed}: ${line}`).toBeLessThanOrEqual(80);
  });

  test('findings of every kind occur', () => {
    const counts = new Map<string, number>();
    each((plan) => {
      for (const { code } of plan.findings) counts.set(code, (counts.get(code) ?? 0) + 1);
    });
    report(
      `Findings in ${SURVEYS} random surveys`,
      [...counts].sort(([, a], [, b]) => b - a).map(([code, count]) => ({ code, count })),
    );
    expect(counts.size).toBeGreaterThan(15);
  });
});

describe('whatever stands in a survey and on a board', () => {
  const runs = scale(2000, 0.1);
  test(`${runs} surveys (fast-check, seed 20) never crash the planner on none, one, or too many boards`, () => {
    const boards = fc.array(fc.constantFrom(...BOARDS.map(([name]) => name)), { maxLength: 6 });
    fc.assert(
      fc.property(surveyArbitrary({ fits: false }), boards, ({ survey }, names) => {
        const plan = planChangeover(
          survey,
          names.map((name, at) => shippedBoard(name, `b${at + 1}`)),
        );
        const cores = survey.cables.reduce((sum, cable) => sum + cable.cores.length, 0);
        expect(new Set(plan.connections.map(({ conductor }) => conductor)).size).toBe(cores);
        expect(plan.connections).toHaveLength(cores);
        expect(plan.findings.length).toBeGreaterThan(0);
        planToText(plan, 60);
        // Suspects are worked out when asked for: that must not crash either.
        for (const { suspects } of plan.points.slice(0, 5)) expect(suspects.length).toBeGreaterThan(0);
      }),
      { numRuns: runs, seed: 20 },
    );
  }, 300_000);
});
