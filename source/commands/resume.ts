import { resolve } from 'node:path';
import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';
import { showScreens } from './open-screens.ts';

export const run: Run = async (given, context) => {
  const from = jobFolderOf(given, context);
  const into = given.text('into');
  const dir = into === undefined ? from : resolve(into);
  if (into !== undefined) {
    const { continueJob } = await import('../job/continue-job.ts');
    continueJob(from, dir, context.system);
    context.out(`The job goes on in ${dir}. ${from} takes no more records.`);
  }
  if (context.terminal) return showScreens({ kind: 'job', dir }, given, context);
  if (into !== undefined) return EXIT.done;
  context.err(
    `The screens need a terminal on standard input and output, and there is none.\nWithout one: loopward next ${dir} --json shows the open steps, loopward act ${dir} ACTION does one.`,
  );
  return EXIT.usage;
};
