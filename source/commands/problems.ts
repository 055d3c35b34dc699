import { readSiteFiles, type SiteFiles } from '../job/site-files.ts';
import { shownRow } from '../screens/terminal/shown-text.ts';
import { type Problem, problemToText } from '../site/problem.ts';
import { Ending } from './exit.ts';

/**
 * A survey and its boards, as every command that takes a survey reads them.
 *
 * @throws Ending `usage` with every problem that was found
 */
export function siteOf(survey: string, boards: readonly string[]): SiteFiles {
  const read = readSiteFiles(survey, boards);
  if (read.ok) return read.site;
  throw problemsEnding(read.problems);
}

/** How a command ends over files that cannot be used: every problem on a line, then their number. */
export function problemsEnding(problems: readonly Problem[]): Ending {
  const count = problems.length === 1 ? '1 problem' : `${problems.length} problems`;
  return new Ending(
    'usage',
    [...problems.map((problem) => shownRow(problemToText(problem))), `${count}. Nothing was started.`].join(
      '\n',
    ),
  );
}
