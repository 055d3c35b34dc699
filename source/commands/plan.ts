import { readFileSync } from 'node:fs';
import { compareBoards } from '../plan/compare-boards.ts';
import { diffPlans } from '../plan/diff-plans.ts';
import { explain, isExplainable, REASONS } from '../plan/explain/explain.ts';
import { groupingWhatIf } from '../plan/explain/grouping-text.ts';
import type { Plan } from '../plan/plan.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { planToJson } from '../plan/plan-to-json.ts';
import { planToText } from '../plan/plan-to-text.ts';
import { changesToText, comparisonToText } from '../plan/text/changes-text.ts';
import { applyCorrection } from '../site/correct-survey.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { problemsEnding, siteOf } from './problems.ts';
import { readSurveyPatch } from './survey-patch.ts';

/** The plan of a survey and its boards: as a whole, one finding explained, boards compared, a change tried. */
export const run: Run = (given, context) => {
  const site = siteOf(given.arguments[0] ?? '', given.all('board'));
  const topic = given.text('explain');
  if (topic !== undefined && !isExplainable(topic)) throw noSuchTopic(topic);
  if (given.has('compare')) {
    const fits = compareBoards(site.survey, site.boards);
    context.out(
      given.json
        ? JSON.stringify({ format: 'loopward/plan-comparison@1', boards: fits })
        : comparisonToText(fits, context.columns),
    );
    return fits.every(({ verdict }) => verdict === 'blocked') ? EXIT.refused : EXIT.done;
  }
  const plan = planChangeover(site.survey, site.boards);
  const patch = given.text('change');
  if (patch !== undefined) {
    const changed = planChangeover(changedSurvey(site, patch), site.boards);
    return showChange(plan, changed, given, context);
  }
  if (topic !== undefined) showReason(plan, topic, given, context);
  else context.out(given.json ? JSON.stringify(planToJson(plan)) : planToText(plan, context.columns));
  return plan.verdict === 'blocked' ? EXIT.refused : EXIT.done;
};

function changedSurvey(site: ReturnType<typeof siteOf>, file: string) {
  const changes = readSurveyPatch(readText(file), file, site.surveyText);
  if (!changes.ok) throw problemsEnding(changes.problems);
  const corrected = applyCorrection(site.surveyText, changes.changes, site.surveyFile);
  if (!corrected.ok) throw problemsEnding(corrected.problems);
  if (JSON.stringify(corrected.survey.boards) !== JSON.stringify(site.survey.boards))
    throw new Ending(
      'usage',
      `--change: ${file} changes the boards, which are not tried so. Name the boards to try with --board, or lay them side by side with --compare.`,
    );
  return corrected.survey;
}

function readText(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    throw new Ending('usage', `--change: ${file} cannot be read. Give a file with a part of a survey.`);
  }
}

function showChange(before: Plan, after: Plan, given: Given, context: Context) {
  const changes = diffPlans(before, after);
  context.out(
    given.json
      ? JSON.stringify({
          format: 'loopward/plan-change@1',
          verdict: { before: before.verdict, after: after.verdict },
          changes,
        })
      : changesToText(changes, context.columns),
  );
  return after.verdict === 'blocked' ? EXIT.refused : EXIT.done;
}

function showReason(plan: Plan, topic: Parameters<typeof explain>[1], given: Given, context: Context): void {
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

function noSuchTopic(topic: string): Ending {
  return new Ending(
    'usage',
    `--explain: nothing is called "${topic}". Write grouping, or one of: ${Object.keys(REASONS).join(', ')}.`,
  );
}
