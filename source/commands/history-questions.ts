import { basename, resolve } from 'node:path';
import { plain } from '../handover/plain.ts';
import { QUESTIONS, type Question } from '../handover/questions.ts';
import { readHandoverSource } from '../handover/read-source.ts';
import { jobsIn } from '../job/jobs.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { verifyNames } from './history-names.ts';
import { jobOf, jobsFolderOf } from './jobs-folder.ts';
import { journalEnding } from './journal-ending.ts';
import { unknownName } from './nearest.ts';

/** The questions that are asked later, each answered from the records; `--question NAME` for one of them. */
export const run: Run = (given, context) => {
  const questions = chosen(given.text('question'));
  const paths = given.has('all') ? allJobs(given, context) : [jobOf(given, context)];
  let code: ExitCode = EXIT.done;
  for (const path of paths) {
    try {
      tell(path, questions, given, context);
    } catch (error) {
      const ending = journalEnding(error);
      // Of many jobs one that cannot be read keeps none of the others from answering.
      if (!given.has('all') || !(ending instanceof Ending)) throw ending;
      context.err(`${basename(path)}: ${ending.message}`);
      code = ending.code;
    }
  }
  return code;
};

function allJobs(given: Given, context: Context): readonly string[] {
  const folder = resolve(given.arguments[0] || jobsFolderOf(given, context));
  const jobs = jobsIn(folder);
  if (jobs.length === 0)
    throw new Ending('usage', `There is no job in ${folder}. Give the folder with --jobs.`);
  for (const { dir, trouble } of jobs) if (trouble !== null) context.err(`${basename(dir)}: ${trouble}`);
  return jobs.flatMap(({ dir, trouble }) => (trouble === null ? [dir] : []));
}

function tell(path: string, questions: readonly Question[], given: Given, context: Context): void {
  const source = readHandoverSource(path, given.has('redact'));
  const zone = given.text('zone') ?? null;
  if (zone !== null) verifyNames({ zone }, [path]);
  const answers = questions.map(({ name, asks, answer }) => ({ name, asks, answers: answer(source, zone) }));
  if (given.json) {
    context.out(
      JSON.stringify({ format: 'loopward/answers@1', job: source.collected.job, questions: answers }),
    );
    return;
  }
  if (given.has('all')) context.out(`${basename(path)}\n`);
  for (const { name, asks, answers: said } of answers) {
    context.out(`${asks} (${name})`);
    if (said.length === 0) context.out('  The record holds none.');
    for (const one of said) context.out(plain(`  ${one.says}  ${one.records.map((n) => `#${n}`).join(' ')}`));
    context.out('');
  }
}

function chosen(name: string | undefined): readonly Question[] {
  if (name === undefined) return QUESTIONS;
  const one = QUESTIONS.find((question) => question.name === name);
  if (one === undefined)
    throw unknownName(
      'question',
      name,
      QUESTIONS.map((question) => question.name),
    );
  return [one];
}
