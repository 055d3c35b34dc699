import { explain, isExplainable, REASONS } from '../plan/explain/explain.ts';
import { groupingWhatIf } from '../plan/explain/grouping-text.ts';
import type { Plan } from '../plan/plan.ts';
import type { Context, Given } from './command.ts';
import { unknownName } from './nearest.ts';

/**
 * What `--explain` is asked about.
 *
 * @throws Ending `usage` where nothing is called so
 */
export function topicOf(named: string): Parameters<typeof explain>[1] {
  if (isExplainable(named)) return named;
  throw unknownName('finding', named, ['grouping', ...Object.keys(REASONS)]);
}

/** Tells the reasoning behind a finding, or behind the grouping. */
export function showReason(
  plan: Plan,
  topic: ReturnType<typeof topicOf>,
  given: Given,
  context: Context,
): void {
  if (!given.json) context.out(explain(plan, topic, context.columns));
  else if (topic === 'grouping') {
    const ways = groupingWhatIf(plan).map(({ inputs, result }) => ({
      inputs,
      loss: result.loss,
      optimal: result.optimal,
      fewestInputs: result.fewestInputs,
      groups: result.groups.map(({ units }) =>
        units.flatMap(({ detectors, zone }) => (detectors.length > 0 ? detectors : [zone])),
      ),
    }));
    context.out(JSON.stringify({ format: 'loopward/explained@1', topic, ways }));
  } else {
    const findings = plan.findings.filter(({ code }) => code === topic);
    context.out(JSON.stringify({ format: 'loopward/explained@1', topic, ...REASONS[topic], findings }));
  }
}
