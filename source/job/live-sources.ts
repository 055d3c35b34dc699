import type { Procedure } from '../procedure/step.ts';
import type { Standing } from './as-it-is.ts';

/** What comes with the new boards: live only once somebody has connected it. */
const NEW = /^(adapter|board-battery):/;

/** The sources of power that are live, or that nobody took off, in the order of the steps. */
export function liveSources({ wiring, by }: Standing, procedure: Procedure): string[] {
  const named = procedure.steps.flatMap(({ acts }) =>
    acts.flatMap((act) => ('source' in act ? [act.source] : [])),
  );
  const off = new Set(wiring.isolated);
  return [...new Set(named)].filter((source) => !off.has(source) && (!NEW.test(source) || source in by));
}
