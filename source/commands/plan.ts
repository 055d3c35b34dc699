import { planChangeover } from '../plan/plan-changeover.ts';
import { planToText } from '../plan/plan-to-text.ts';
import type { Given, Run } from './command.ts';
import { EXIT } from './exit.ts';
import { siteOf } from './problems.ts';

/**
 * The plan of a survey and its boards: as a whole, one finding explained, boards compared, a change tried. What serves only
 * some of these is loaded for them alone.
 */
export const run: Run = async (given, context) => {
  const named = given.text('explain');
  const reason = named === undefined ? null : await import('./plan-reason.ts');
  const topic = reason?.topicOf(named ?? '');
  if (given.has('compare')) {
    const { showComparison } = await import('./plan-comparison.ts');
    return showComparison(siteFiles(given), given, context);
  }
  const patch = given.text('change');
  if (patch !== undefined) {
    const { showChange } = await import('./plan-change.ts');
    return showChange(siteFiles(given), patch, given, context);
  }
  const site = siteFiles(given);
  const plan = planChangeover(site.survey, site.boards);
  if (reason && topic) reason.showReason(plan, topic, given, context);
  else if (!given.json) context.out(planToText(plan, context.columns));
  else context.out(JSON.stringify((await import('../plan/plan-to-json.ts')).planToJson(plan)));
  return plan.verdict === 'blocked' ? EXIT.refused : EXIT.done;
};

function siteFiles(given: Given) {
  return siteOf(given.arguments[0] ?? '', given.all('board'));
}
