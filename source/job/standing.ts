import type { Next } from './action.ts';
import { asLeft } from './as-left.ts';
import { sayDifference } from './difference-words.ts';
import { liveSources } from './live-sources.ts';
import type { Replay } from './replay.ts';

/**
 * What is live, and what is not as planned, for `next`. The wiring is folded only where something was given up: in a job
 * that goes by plan there is nothing to tell.
 */
export function standingOf(replay: Replay): Pick<Next, 'differs' | 'live'> {
  const { firstBasis, procedure, results, state } = replay;
  if (firstBasis.plan === null) return {};
  const live = liveSources(procedure, results);
  const isGivenUp = Object.values(state.context.status).includes('deviated');
  const left = isGivenUp ? asLeft(replay) : null;
  if (left === null || left.differs.length === 0) return { live };
  const tries = [...results.values()].flat();
  const differs = left.differs.map((one) => {
    const said = tries.find(({ n }) => n === one.record);
    return {
      what: sayDifference(one, left.wiring),
      why: said?.reason ?? null,
      by: said?.by ?? null,
      risk: said?.residualRisk ?? null,
      record: one.record,
    };
  });
  return { live, differs };
}
