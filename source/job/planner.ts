import type { Plan } from '../plan/plan.ts';
import type { JobState } from '../procedure/state.ts';
import type { Change } from '../site/correct-survey.ts';
import type { Basis } from './basis.ts';
import type { Corrected, Correction } from './correct.ts';
import type { Private } from './private.ts';

/**
 * What plans: read a stored survey, plan it, plan it again corrected. It is handed in, because most actions need
 * none of it and it is most of the program.
 */
export type Planner = {
  plan(basis: Pick<Basis, 'survey' | 'boards'>, site: Private['site']): Plan;
  correct(
    basis: Basis,
    before: Plan,
    state: JobState,
    site: Private['site'],
    set: readonly Change[],
  ): Corrected;
  say(before: Plan, correction: Correction, done: ReadonlySet<string>): string[];
};

/** Thrown before anything is recorded, where an action wants a plan and nobody has handed in a planner. */
export class PlannerNeeded extends Error {
  override readonly name = 'PlannerNeeded';
}

/** What an earlier version stored and this one cannot read. The steps stand all the same, so work goes on. */
export class StoredUnreadable extends Error {
  override readonly name = 'StoredUnreadable';
}
