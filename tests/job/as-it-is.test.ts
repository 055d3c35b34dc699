import { describe, expect, test } from 'vitest';
import { circuitLeft, resistorsLeft } from '../../source/handover/as-left/circuits.ts';
import { connectionsLeft } from '../../source/handover/as-left/connections.ts';
import type { ActDone, Went } from '../../source/job/acts-done.ts';
import { asItIs, asPlanned } from '../../source/job/as-it-is.ts';
import type { AsLeft } from '../../source/job/as-left-record.ts';
import { differencesOf } from '../../source/job/differences.ts';
import type { StepResult } from '../../source/job/records.ts';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import type { JobState } from '../../source/procedure/state.ts';
import type { Procedure, Step } from '../../source/procedure/step.ts';
import { initialState } from '../../source/procedure/transition.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

const SITES = scale(200, 0.2);

type Site = { readonly seed: number; readonly plan: Plan; readonly procedure: Procedure };

const sites: Site[] = Array.from({ length: SITES }, (_, seed) => {
  const { survey, boards } = randomSurvey(seed);
  const plan = planChangeover(survey, boards);
  return { seed, plan, procedure: buildProcedure(plan) };
}).filter(({ plan }) => plan.verdict !== 'blocked');

/** Every step of a job passed in order, but one that was given up, its acts as said. */
function workedThrough({ procedure }: Site, givenUp: string | null = null, went: Went = 'not-done') {
  const status = Object.fromEntries(
    procedure.steps.map(({ id }) => [id, id === givenUp ? 'deviated' : 'done'] as const),
  );
  const start = initialState(procedure);
  const state: JobState = { ...start, context: { ...start.context, status } };
  const results = new Map<string, readonly StepResult[]>();
  // What is offered again and again is no part of the way: what it takes off, another step connects.
  for (const [n, step] of procedure.steps.entries())
    if (step.acts.length > 0 && !step.repeatable)
      results.set(step.id, [resultOf(step, n, step.id === givenUp ? went : 'done')]);
  return { state, results };
}

function resultOf(step: Step, n: number, went: Went): StepResult {
  const acts: ActDone[] = step.acts.map((act) => ({ act, went }));
  const said =
    went === 'done'
      ? ({ do: 'confirm', outcome: 'passed' } as const)
      : ({ do: 'deviate', outcome: 'recorded' } as const);
  return { n, at: '', by: 'p1', ...said, values: {}, causes: [], reason: null, residualRisk: null, acts };
}

function leftAt(site: Site, givenUp: string | null = null, went: Went = 'not-done'): AsLeft {
  const { plan, procedure } = site;
  const { state, results } = workedThrough(site, givenUp, went);
  const standing = asItIs(plan.wiring, procedure, state, results);
  const differs = differencesOf(asPlanned(plan.wiring, procedure, state, results), standing.wiring, results);
  return { ...standing, differs };
}

const placeOf = (to: object) =>
  'stays' in to ? { stays: String(to.stays).replace(/^(post:[^.]+)\..*/, '$1') } : to;

describe(`${sites.length} random sites (seeds from 0)`, () => {
  test('worked through by the cards, are left as the plan says: each wire, each input, each resistor', () => {
    let [wires, inputs, parts] = [0, 0, 0];
    for (const site of sites) {
      const { plan, seed } = site;
      const left = leftAt(site);
      expect(left.differs, `seed ${seed}`).toEqual([]);
      for (const [index, one] of connectionsLeft(plan, left).entries()) {
        wires += 1;
        // Out at a detector a wire may come to another terminal of it, where a resistor is taken out.
        expect(placeOf(one.to), `seed ${seed}, ${one.conductor}`).toEqual(
          placeOf(plan.connections[index]!.to),
        );
      }
      for (const circuit of plan.circuits) {
        inputs += 1;
        const { hangs, more } = circuitLeft(plan, circuit, left);
        const told = `seed ${seed}, ${circuit.board} ${circuit.input}`;
        expect(
          [...hangs.values()].every((how) => how === 'on'),
          told,
        ).toBe(true);
        expect(more, told).toEqual([]);
      }
      // Of a tamper loop that is given up the resistor stays at the old panel, and no input has it.
      for (const zone of plan.zones.filter(({ id }) =>
        plan.circuits.some(({ resistors }) => id in resistors),
      ))
        for (const one of resistorsLeft(plan, zone.id, left)) {
          parts += 1;
          expect(['missing', 'unknown', 'in'], `seed ${seed}, ${one.id}`).not.toContain(one.stands);
        }
    }
    expect(Math.min(wires, inputs, parts)).toBeGreaterThan(sites.length);
  });

  test('of which one card of landing is given up, have its wires on no input, and nothing else otherwise', () => {
    let looked = 0;
    for (const site of sites) {
      const cards = site.procedure.steps.filter(
        ({ hard, acts }) => !hard && acts.some((act) => act.do === 'land'),
      );
      for (const [at, { id, acts }] of cards.entries()) {
        const went: Went = at % 2 === 0 ? 'not-done' : 'unknown';
        const left = leftAt(site, id, went);
        const landed = acts.flatMap((act) => (act.do === 'land' ? [act.conductor] : []));
        looked += landed.length;
        for (const { conductor, to, record } of connectionsLeft(site.plan, left)) {
          if (!landed.includes(conductor)) continue;
          const told = `seed ${site.seed}, ${id}, ${conductor}`;
          expect('board' in to || 'joint' in to, told).toBe(false);
          if (went === 'unknown') expect(to, told).toEqual({ unknown: true });
          expect(record, told).not.toBeNull();
        }
        const others = left.differs.filter(
          ({ kind, subject }) => kind === 'wire' && !landed.includes(subject),
        );
        expect(others, `seed ${site.seed}, ${id}`).toEqual([]);
      }
    }
    expect(looked).toBeGreaterThan(sites.length);
  });

  test('of which one card of resistors is given up, tell each of its resistors as it is', () => {
    let looked = 0;
    for (const site of sites) {
      const cards = site.procedure.steps.filter(
        ({ hard, acts }) => !hard && acts.some((act) => 'resistor' in act),
      );
      for (const { id, acts } of cards) {
        const left = leftAt(site, id);
        for (const act of acts) {
          if (!('resistor' in act)) continue;
          looked += 1;
          const one = resistorsLeft(site.plan, act.zone, left).find((part) => part.id === act.resistor);
          expect(one?.stands, `seed ${site.seed}, ${id}, ${act.resistor}`).toMatch(/^(in|kept)$/);
        }
      }
    }
    expect(looked).toBeGreaterThan(10);
  });

  test('are the same, folded act by act as the record grows or all at once', () => {
    for (const site of sites.slice(0, 20)) {
      const { state, results } = workedThrough(
        site,
        site.procedure.steps.find(({ hard, acts }) => !hard && acts.length > 0)?.id,
      );
      const growing = new Map<string, readonly StepResult[]>();
      for (const [id, tries] of results) {
        growing.set(id, tries);
        asItIs(site.plan.wiring, site.procedure, state, growing);
      }
      const grown = asItIs(site.plan.wiring, site.procedure, state, growing);
      // Another object of the same wiring has nothing folded over it yet.
      const once = asItIs({ ...site.plan.wiring }, site.procedure, state, results);
      expect(grown, `seed ${site.seed}`).toEqual(once);
      expect(grown.wiring).not.toEqual(site.plan.wiring);
    }
  });
});
