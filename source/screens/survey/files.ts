import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readDraft, writeDraft } from '../../job/draft.ts';
import { readBoardFiles } from '../../job/site-files.ts';
import { planChangeover } from '../../plan/plan-changeover.ts';
import { boardProblems } from '../../site/check-boards.ts';
import { parseSurvey } from '../../site/parse-survey.ts';
import type { Problem } from '../../site/problem.ts';
import type { Answers } from './question.ts';

// A dot-folder is no job; surveys that are finished stand beside the jobs.
const DRAFT = '.survey';

/** The survey that was begun in a jobs folder, as far as it was answered. */
export function readSurveyDraft(jobsFolder: string): Answers {
  return readDraft(join(jobsFolder, DRAFT))?.answers ?? {};
}

/** Keeps the answers given so far, so that a kill loses none. */
export function writeSurveyDraft(jobsFolder: string, answers: Answers): void {
  const dir = join(jobsFolder, DRAFT);
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  writeDraft(dir, { screen: 'survey', about: '', answers });
}

/** The survey files beside the jobs; what was kept of an earlier text is none of them. */
export function savedSurveys(jobsFolder: string): readonly string[] {
  if (!existsSync(jobsFolder)) return [];
  return readdirSync(jobsFolder)
    .filter((name) => /\.ya?ml$/.test(name) && !/\.before(-\d+)?\.ya?ml$/.test(name))
    .sort()
    .map((name) => join(jobsFolder, name));
}

/** Saves a survey beside the jobs, under its place's name, and forgets the draft. Nothing is written over. */
export function saveSurvey(jobsFolder: string, text: string, name: string): string {
  const plain =
    name
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-+|-+$/g, '') || 'survey';
  mkdirSync(jobsFolder, { recursive: true, mode: 0o700 });
  let file = join(jobsFolder, `${plain}.yaml`);
  for (let number = 2; existsSync(file); number++) file = join(jobsFolder, `${plain}-${number}.yaml`);
  writeFileSync(file, text, { mode: 0o600, flag: 'wx' });
  rmSync(join(jobsFolder, DRAFT), { recursive: true, force: true });
  return file;
}

/**
 * What is wrong with a survey, or else what its plan finds; the gravest first.
 *
 * @param folder where the boards that it names by a file stand
 */
export function checkSurvey(text: string, folder: string): readonly string[] {
  const parsed = parseSurvey(text, 'survey.yaml');
  if (!parsed.ok) return parsed.problems.map(says);
  const { boards, problems } = readBoardFiles(parsed.survey.boards, folder);
  const wrong = problems.length > 0 ? problems : boardProblems(parsed.survey, boards, text, 'survey.yaml');
  if (wrong.length > 0) return wrong.map(says);
  const order = ['block', 'gate', 'caution', 'note'];
  return [...planChangeover(parsed.survey, boards).findings]
    .sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))
    .map((finding) => finding.message);
}

const says = (problem: Problem) => `${problem.field}: ${problem.says}`;
