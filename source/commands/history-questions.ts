import { plain } from '../handover/plain.ts';
import { QUESTIONS, type Question } from '../handover/questions.ts';
import { readHandoverSource } from '../handover/read-source.ts';
import type { Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { jobOf } from './jobs-folder.ts';
import { journalEnding } from './journal-ending.ts';

/** The questions that are asked later, each answered from the records; `--question NAME` for one of them. */
export const run: Run = (given, context) => {
  const questions = chosen(given.text('question'));
  let source: ReturnType<typeof readHandoverSource>;
  try {
    source = readHandoverSource(jobOf(given, context), given.has('redact'));
  } catch (error) {
    throw journalEnding(error);
  }
  const zone = given.text('zone') ?? null;
  const answers = questions.map(({ name, asks, answer }) => ({ name, asks, answers: answer(source, zone) }));
  if (given.json) {
    context.out(
      JSON.stringify({ format: 'loopward/answers@1', job: source.collected.job, questions: answers }),
    );
    return EXIT.done;
  }
  for (const { name, asks, answers: said } of answers) {
    context.out(`${asks} (${name})`);
    if (said.length === 0) context.out('  The record holds none.');
    for (const one of said) context.out(plain(`  ${one.says}  ${one.records.map((n) => `#${n}`).join(' ')}`));
    context.out('');
  }
  return EXIT.done;
};

function chosen(name: string | undefined): readonly Question[] {
  if (name === undefined) return QUESTIONS;
  const one = QUESTIONS.find((question) => question.name === name);
  if (one === undefined) {
    const names = QUESTIONS.map((question) => question.name).join(', ');
    throw new Ending('usage', `There is no question ${name}. Ask one of: ${names}.`);
  }
  return [one];
}
