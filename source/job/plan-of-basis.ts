import { parse, stringify } from 'yaml';
import type { Plan } from '../plan/plan.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { parseBoard } from '../site/parse-board.ts';
import { parseSurvey } from '../site/parse-survey.ts';
import type { Basis } from './basis.ts';
import type { Private } from './private.ts';

/** A survey text without its `site`, which names a place: so it enters the journal. */
export function withoutSite(surveyText: string): string {
  const { site: _, ...rest } = parse(surveyText) as Record<string, unknown>;
  return stringify(rest).replaceAll(/\p{Surrogate}/gu, '\ufffd');
}

/** The survey text as it was, with the place put back; `(erased)` where its name was erased. */
export function withSite(surveyText: string, site: Private['site']): string {
  return stringify({ ...(parse(surveyText) as object), site: site ?? { name: '(erased)' } });
}

/**
 * The plan of what a job stands on.
 *
 * @throws Error if this version cannot read what an earlier one stored
 */
export function planOfBasis(basis: Pick<Basis, 'survey' | 'boards'>, site: Private['site']): Plan {
  const survey = parseSurvey(withSite(basis.survey, site), 'survey');
  if (!survey.ok) throw new Error(`The stored survey cannot be read: ${survey.problems[0]?.says}`);
  const boards = basis.boards.map(({ id, file, text }) => {
    const board = parseBoard(text, file, id);
    if (!board.ok) throw new Error(`The stored board ${id} cannot be read: ${board.problems[0]?.says}`);
    return board.board;
  });
  return planChangeover(survey.survey, boards);
}
