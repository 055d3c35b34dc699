import { readFileSync } from 'node:fs';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { parseBoard } from '../../source/site/parse-board.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';

const fixture = (path: string) => readFileSync(new URL(`../../fixtures/${path}`, import.meta.url), 'utf8');

/** The sailing club on its board, its survey changed by hand where a test wants another branch. */
export function demoPlan(
  change: (text: string) => string = (text) => text,
  board = 'eight-paired',
  changeBoard: (text: string) => string = (text) => text,
): Plan {
  const text = change(fixture('sailing-club/survey.yaml'));
  const survey = parseSurvey(text, 'survey.yaml');
  if (!survey.ok) throw new Error(JSON.stringify(survey.problems));
  const read = parseBoard(changeBoard(fixture(`boards/${board}.yaml`)), `${board}.yaml`, 'b1');
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return planChangeover(survey.survey, [read.board]);
}
