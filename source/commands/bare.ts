import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { showScreens } from './open-screens.ts';

export const run: Run = (given, context) => {
  if (context.terminal) return showScreens({ kind: 'jobs' }, given, context);
  context.err(
    [
      'The screens need a terminal on standard input and output, and there is none.',
      'Without one: loopward demo shows the demo as text; loopward start SURVEY opens a job; loopward next JOB and loopward act JOB ACTION lead it.',
      'loopward --help lists every command.',
    ].join('\n'),
  );
  return EXIT.usage;
};
