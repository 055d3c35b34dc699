import { describe, expect, test } from 'vitest';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { barePoint } from '../../source/plan/points/suspects.ts';
import { storedPlanToText, storePlan, takeUpPlan, textToStoredPlan } from '../../source/plan/stored-plan.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

const SITES = scale(200, 0.3);

function storedAndRead(plan: Plan): Plan {
  return takeUpPlan(textToStoredPlan(storedPlanToText(storePlan(plan))), plan.survey.site);
}

const bare = (plan: Plan) => ({ ...plan, points: plan.points.map(barePoint) });

describe('a plan that is stored', () => {
  test(`is read as it was made, at ${SITES} random sites (seeds from 0)`, () => {
    let endless = 0;
    for (let seed = 0; seed < SITES; seed++) {
      const { survey, boards } = randomSurvey(seed, { fits: seed % 3 !== 0 });
      const plan = planChangeover(survey, boards);
      const read = storedAndRead(plan);
      expect(bare(read), `seed ${seed}`).toEqual(bare(plan));
      const [point] = plan.points;
      if (point) expect(read.points[0]!.suspects, `seed ${seed}`).toEqual(point.suspects);
      if (plan.circuits.some(({ margin }) => margin.closedOhms === Infinity || margin.openOhms === Infinity))
        endless++;
    }
    // Endless windows are common: a comparison that met none would show nothing of them.
    expect(endless).toBeGreaterThan(10);
  });

  test('of before sounders and the worst copper were reckoned is taken up with what it held', () => {
    const { survey, boards } = randomSurvey(5, { zones: 6, detectors: 14 });
    const plan = planChangeover(survey, boards);
    expect(plan.supply.flatMap(({ devices }) => devices).length).toBeGreaterThan(0);
    const old = plan.supply.map(({ sounders, devices, ...rest }) => ({
      ...rest,
      devices: devices.map(({ worstVolts, bestVolts, ...device }) => device),
    }));
    for (const { sounders, devices } of storedAndRead({ ...plan, supply: old } as unknown as Plan).supply) {
      expect(sounders).toEqual([]);
      for (const { worstVolts, mainsVolts, batteryEndVolts } of devices)
        expect(worstVolts).toBe(Math.min(mainsVolts, batteryEndVolts));
    }
  });

  test('keeps what is endless, either way, and refuses what is no figure', () => {
    const { survey, boards } = randomSurvey(1);
    const plan = planChangeover(survey, boards);
    const figures = { up: Infinity, down: -Infinity, text: '1e999' };
    const odd = { ...plan, findings: [{ ...plan.findings[0]!, figures }] };
    expect(storedAndRead(odd).findings[0]!.figures).toEqual(figures);
    const broken = { ...plan, findings: [{ ...plan.findings[0]!, figures: { amps: Number.NaN } }] };
    expect(() => storePlan(broken)).toThrow('amps');
  });

  test('names no place: that is put back from where it can be erased', () => {
    const { survey, boards } = randomSurvey(2);
    const site = { name: 'Harbour sailing club', reference: 'HSC-7', address: 'at the slip' };
    const stored = storePlan(planChangeover({ ...survey, site }, boards));
    for (const word of Object.values(site)) expect(storedPlanToText(stored)).not.toContain(word);
    expect(takeUpPlan(stored, site).survey.site).toEqual(site);
    expect(takeUpPlan(stored, null).survey.site.name).toBe('(erased)');
  });
});
