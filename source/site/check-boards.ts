import type { Board } from './board.ts';
import { orWords, type Problem } from './problem.ts';
import type { Survey } from './survey.ts';

/**
 * What survey and boards say of each other that is not so: inputs asked for that no board has, and leads that
 * are no cable of the site.
 *
 * @param file the survey's name, to tell problems by
 */
export function boardProblems(survey: Survey, boards: readonly Board[], file: string): Problem[] {
  const inputs = boards.flatMap((board) => board.inputs.map((input) => `${board.id}/${input.id}`));
  const cables = survey.cables.map((cable) => cable.id);
  const problem = (field: string, says: string, accepts: readonly string[]): Problem => {
    return { file, line: null, field, says, accepts: orWords(accepts) };
  };
  return [
    ...survey.detectors.flatMap(({ id, input }) =>
      input === null || inputs.includes(input)
        ? []
        : [problem(`detectors.${id}.input`, `There is no input ${input}.`, inputs)],
    ),
    ...boards.flatMap(({ id, adapter }) =>
      adapter.lead === null || cables.includes(adapter.lead)
        ? []
        : [problem(`boards.${id}`, `Its adapter's lead ${adapter.lead} is no cable of the site.`, cables)],
    ),
  ];
}
