import type { SiteFiles } from '../job/site-files.ts';
import { compareBoards } from '../plan/compare-boards.ts';
import { comparisonToText } from '../plan/text/changes-text.ts';
import type { Context, Given } from './command.ts';
import { EXIT, type ExitCode } from './exit.ts';

/** Lays the boards of a site side by side. */
export function showComparison({ survey, boards }: SiteFiles, given: Given, context: Context): ExitCode {
  const fits = compareBoards(survey, boards);
  context.out(
    given.json
      ? JSON.stringify({ format: 'loopward/plan-comparison@1', boards: fits })
      : comparisonToText(fits, context.columns),
  );
  return fits.every(({ verdict }) => verdict === 'blocked') ? EXIT.refused : EXIT.done;
}
