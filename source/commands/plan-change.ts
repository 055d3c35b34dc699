import { readTextFile } from '../job/read-text.ts';
import type { SiteFiles } from '../job/site-files.ts';
import { diffPlans } from '../plan/diff-plans.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { changesToText } from '../plan/text/changes-text.ts';
import { applyCorrection } from '../site/correct-survey.ts';
import type { Survey } from '../site/survey.ts';
import type { Context, Given } from './command.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { problemsEnding } from './problems.ts';
import { readSurveyPatch } from './survey-patch.ts';

/**
 * Tells what a change makes of a plan.
 *
 * @param file with a part of a survey
 * @throws Ending `usage` where it cannot be read, or changes the boards
 */
export function showChange(site: SiteFiles, file: string, given: Given, context: Context): ExitCode {
  const before = planChangeover(site.survey, site.boards);
  const after = planChangeover(changedSurvey(site, file), site.boards);
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

function changedSurvey(site: SiteFiles, file: string): Survey {
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
  const read = readTextFile(file);
  if (read.ok) return read.text;
  throw new Ending('usage', `--change ${file}: ${read.says} Give ${read.accepts}.`);
}
