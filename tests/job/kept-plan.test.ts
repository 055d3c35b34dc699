import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { keepingPlanner, type PlanKeeper } from '../../source/job/kept-plan.ts';
import type { Planner } from '../../source/job/planner.ts';
import { PLANNER } from '../../source/job/planning.ts';

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), 'utf8');
const BASIS = {
  survey: fixture('sailing-club/survey.yaml'),
  boards: [{ id: 'b1', file: 'eight-paired', text: fixture('boards/eight-paired.yaml') }],
};
const PLACE = { name: 'Sailing club', reference: 'job 12', address: 'at the slip' };

function keeperWith(kept = new Map<string, Uint8Array>()): PlanKeeper & { kept: typeof kept } {
  return { kept, read: (key) => kept.get(key), keep: (key, bytes) => void kept.set(key, bytes) };
}

function counting(): Planner & { made: number } {
  const planner = {
    ...PLANNER,
    made: 0,
    plan: (...given: Parameters<Planner['plan']>) => {
      planner.made += 1;
      return PLANNER.plan(...given);
    },
  };
  return planner;
}

describe('a plan that was made once', () => {
  test('is taken up as it was made, and not made again', () => {
    const planner = counting();
    const keeper = keeperWith();
    const fresh = PLANNER.plan(BASIS, PLACE);
    expect(keepingPlanner(planner, keeper).plan(BASIS, PLACE)).toEqual(fresh);
    expect(keepingPlanner(planner, keeper).plan(BASIS, PLACE)).toEqual(fresh);
    expect(planner.made).toBe(1);
  });

  test('is kept small: suspects are worked out when they are asked for', () => {
    const keeper = keeperWith();
    const fresh = keepingPlanner(PLANNER, keeper).plan(BASIS, PLACE);
    const [bytes] = [...keeper.kept.values()];
    expect(bytes!.length).toBeLessThan(150_000);
    const again = keepingPlanner(PLANNER, keeper).plan(BASIS, PLACE);
    expect(Object.getOwnPropertyDescriptor(again.points[0], 'suspects')?.get).toBeDefined();
    expect(again.points[0]!.suspects).toEqual(fresh.points[0]!.suspects);
    expect(again.points[0]!.suspects.length).toBeGreaterThan(10);
  });

  test('is another one as soon as a figure of survey or board is', () => {
    const planner = counting();
    const keeping = keepingPlanner(planner, keeperWith());
    keeping.plan(BASIS, null);
    keeping.plan({ ...BASIS, survey: BASIS.survey.replace('holdUp: 12 h', 'holdUp: 13 h') }, null);
    keeping.plan({ ...BASIS, boards: [{ ...BASIS.boards[0]!, id: 'b2' }] }, null);
    expect(planner.made).toBe(3);
  });

  test('keeps no place, so that nothing has to be erased there', () => {
    const keeper = keeperWith();
    keepingPlanner(PLANNER, keeper).plan(BASIS, PLACE);
    const kept = Buffer.concat([...keeper.kept.values()]).toString('latin1');
    expect(kept).toContain('eight-paired');
    for (const word of Object.values(PLACE)) expect(kept).not.toContain(word);
  });
});
