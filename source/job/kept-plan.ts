import { deserialize, serialize } from 'node:v8';
import { sha256 } from '../journal/digest.ts';
import type { Plan } from '../plan/plan.ts';
import { barePoint, withSuspects } from '../plan/points/suspects.ts';
import type { Basis } from './basis.ts';
import type { Planner } from './planner.ts';
import type { Private } from './private.ts';

/** Where plans are kept that were made once. What is read from it must have been written by this very program. */
export type PlanKeeper = {
  /** @param key of 32 hexadecimal digits */
  read(key: string): Uint8Array | undefined;
  keep(key: string, bytes: Uint8Array): void;
};

/**
 * A planner that makes each plan once: from the same survey and boards the same program makes the same plan. The place of
 * a site is kept nowhere, so that it can be erased.
 */
export function keepingPlanner(planner: Planner, keeper: PlanKeeper): Planner {
  const plan = (basis: Pick<Basis, 'survey' | 'boards'>, site: Private['site']): Plan => {
    const key = keyOf(basis);
    const kept = keeper.read(key);
    if (kept !== undefined) return inPlace(takenUp(kept), site);
    const made = planner.plan(basis, null);
    keeper.keep(key, keptForm(made));
    return inPlace(made, site);
  };
  return { ...planner, plan };
}

/**
 * A plan as it is kept. Suspects are worked out for the few points that are asked for them, and are most of a plan once they
 * are: so they are left out, and stay to be worked out.
 */
export function keptForm(plan: Plan): Buffer {
  return serialize({ ...plan, points: plan.points.map(barePoint) });
}

/** The plan of its kept form. */
export function takenUp(kept: Uint8Array): Plan {
  const plan = deserialize(kept) as Plan;
  return { ...plan, points: withSuspects(plan.points, plan.survey) };
}

function keyOf({ survey, boards }: Pick<Basis, 'survey' | 'boards'>): string {
  return sha256(JSON.stringify([survey, boards])).slice(0, 32);
}

function inPlace(plan: Plan, site: Private['site']): Plan {
  return site === null ? plan : { ...plan, survey: { ...plan.survey, site } };
}
