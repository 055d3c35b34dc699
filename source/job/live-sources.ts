import type { Procedure } from '../procedure/step.ts';
import { actsInOrder } from './acts-done.ts';
import type { StepResult } from './records.ts';

/** What comes with the new boards: live only once somebody has connected it. */
const NEW = /^(adapter|board-battery):/;

/** The sources of power that are live, or of which nobody can say that they are off, in the order of the steps. */
export function liveSources(
  procedure: Procedure,
  results: ReadonlyMap<string, readonly StepResult[]>,
): string[] {
  const last = new Map<string, boolean>();
  for (const { act, went } of actsInOrder(results))
    if ((act.do === 'isolate' || act.do === 'connect-source') && went !== 'not-done')
      last.set(act.source, act.do === 'connect-source' || went === 'unknown');
  const named = procedure.steps.flatMap(({ acts }) =>
    acts.flatMap((act) => ('source' in act ? [act.source] : [])),
  );
  return [...new Set(named)].filter((source) => last.get(source) ?? !NEW.test(source));
}
