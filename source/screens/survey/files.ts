import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { readDraft, writeDraft } from '../../job/draft.ts';
import { readSiteFiles } from '../../job/site-files.ts';
import { planChangeover } from '../../plan/plan-changeover.ts';
import type { Answers } from './question.ts';

// A dot-folder is no job; surveys that are finished stand beside the jobs.
const DRAFT = '.survey';
const ANSWERS = '.surveys';

/** The survey that was begun in a jobs folder, as far as it was answered. */
export function readSurveyDraft(jobsFolder: string): Answers {
  return readDraft(join(jobsFolder, DRAFT))?.answers ?? {};
}

export function writeSurveyDraft(jobsFolder: string, answers: Answers): void {
  const dir = join(jobsFolder, DRAFT);
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  writeDraft(dir, { screen: 'survey', about: '', answers });
}

/** The surveys saved in a jobs folder, whose answers can be gone through again, by name. */
export function savedSurveys(jobsFolder: string): readonly string[] {
  const dir = join(jobsFolder, ANSWERS);
  if (!existsSync(dir)) return [];
  return readdirSync(dir)
    .filter((name) => existsSync(join(dir, name, 'draft.json')))
    .sort();
}

/** The answers behind a saved survey. */
export function readSavedSurvey(jobsFolder: string, name: string): Answers {
  return readDraft(join(jobsFolder, ANSWERS, basename(name)))?.answers ?? {};
}

/** Saves a survey beside the jobs, under its place's name, and forgets the draft. Nothing is written over. */
export function saveSurvey(jobsFolder: string, text: string, name: string, answers: Answers): string {
  const plain =
    name
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-+|-+$/g, '') || 'survey';
  mkdirSync(jobsFolder, { recursive: true, mode: 0o700 });
  let file = join(jobsFolder, `${plain}.yaml`);
  for (let number = 2; existsSync(file); number++) file = join(jobsFolder, `${plain}-${number}.yaml`);
  writeFileSync(file, text, { mode: 0o600, flag: 'wx' });
  const kept = join(jobsFolder, ANSWERS, basename(file, '.yaml'));
  mkdirSync(kept, { recursive: true, mode: 0o700 });
  writeDraft(kept, { screen: 'survey', about: name, answers });
  rmSync(join(jobsFolder, DRAFT), { recursive: true, force: true });
  return file;
}

/** What is wrong with a survey, or else what its plan finds; the gravest first. */
export function checkSurvey(jobsFolder: string, text: string): readonly string[] {
  const dir = join(jobsFolder, DRAFT);
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  const file = join(dir, 'survey.yaml');
  writeFileSync(file, text, { mode: 0o600 });
  const read = readSiteFiles(file, []);
  if (!read.ok) return read.problems.map((problem) => `${problem.field}: ${problem.says}`);
  const order = ['block', 'gate', 'caution', 'note'];
  const { findings } = planChangeover(read.site.survey, read.site.boards);
  return [...findings]
    .sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))
    .map((finding) => finding.message);
}
