import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';
import { showScreens } from './open-screens.ts';

export const run: Run = (given, context) => {
  const dir = jobFolderOf(given, context);
  if (context.terminal) return showScreens({ kind: 'job', dir }, given, context);
  context.err(
    `The screens need a terminal on standard input and output, and there is none.\nWithout one: loopward next ${dir} --json shows the open steps, loopward act ${dir} ACTION does one.`,
  );
  return EXIT.usage;
};
