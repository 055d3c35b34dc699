import type { Board } from './board.ts';
import { readDocument } from './document.ts';
import { orWords, type Problem } from './problem.ts';
import type { Survey } from './survey.ts';

/**
 * What survey and boards say of each other that is not so: inputs asked for that no board has, and leads that
 * are no cable of the site.
 *
 * @param text the survey's text, for the lines of what is wrong in it
 * @param file its name, to tell problems by
 */
export function boardProblems(
  survey: Survey,
  boards: readonly Board[],
  text: string,
  file: string,
): readonly Problem[] {
  const inputs = boards.flatMap((board) => board.inputs.map((input) => `${board.id}/${input.id}`));
  const cables = survey.cables.map((cable) => cable.id);
  const asked = survey.detectors.flatMap(({ input }, index) =>
    input === null || inputs.includes(input)
      ? []
      : [
          {
            at: ['detectors', index, 'input'],
            says: `There is no input ${input}.`,
            accepts: orWords(inputs),
          },
        ],
  );
  const led = boards.flatMap(({ id, adapter }, index) =>
    adapter.lead === null || cables.includes(adapter.lead)
      ? []
      : [
          {
            at: ['boards', index],
            says: `The lead ${adapter.lead} of ${id}'s adapter is no cable of the site.`,
            accepts: orWords(cables),
          },
        ],
  );
  const troubles = [...asked, ...led];
  // Reading the text again takes as long as planning does: only where a line has to be named.
  if (troubles.length === 0) return [];
  const document = readDocument(text, file);
  return 'problems' in document ? document.problems : troubles.map(document.problem);
}
