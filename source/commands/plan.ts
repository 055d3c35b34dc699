import { planToText } from '../plan/plan-to-text.ts';
import type { Given, Run } from './command.ts';
import { EXIT } from './exit.ts';
import { planKeeper } from './plan-keeper.ts';
import { planOnce } from './plan-once.ts';

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
    return showComparison(await siteFiles(given), given, context);
  }
  const patch = given.text('change');
  if (patch !== undefined) {
    const { showChange } = await import('./plan-change.ts');
    return showChange(await siteFiles(given), patch, given, context);
  }
  const plan = await planOnce(surveyOf(given), given.all('board'), planKeeper(context), async () => {
    const { planChangeover } = await import('../plan/plan-changeover.ts');
    const site = await siteFiles(given);
    return { plan: planChangeover(site.survey, site.boards), site };
  });
  if (reason && topic) reason.showReason(plan, topic, given, context);
  else if (!given.json) context.out(planToText(plan, context.columns));
  else context.out(JSON.stringify((await import('../plan/plan-to-json.ts')).planToJson(plan)));
  return plan.verdict === 'blocked' ? EXIT.refused : EXIT.done;
};

function surveyOf(given: Given): string {
  return given.arguments[0] ?? '';
}

async function siteFiles(given: Given) {
  const { siteOf } = await import('./problems.ts');
  return siteOf(surveyOf(given), given.all('board'));
}
