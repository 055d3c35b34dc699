import type { System } from '../journal/system.ts';
import { runPlain } from './plain/run.ts';
import { runScreens, type ScreensContext, type Start } from './run.ts';
import { shelfOf } from './shelf.ts';

/** Where the jobs are, and who works on them as a rule. */
type JobsAt = {
  readonly system: System;
  readonly jobsFolder: string;
  readonly person?: string;
  /** Where plans are kept that were made before. */
};

/**
 * Opens the screens on the jobs of a folder.
 *
 * @returns the program's exit code; 2 without a terminal
 */
export async function openScreens(start: Start, context: ScreensContext & JobsAt): Promise<number> {
  if (!process.stdin.isTTY || !process.stdout.isTTY) {
    process.stderr.write('The screens need a terminal. Use --plain, or the commands next and act.\n');
    return 2;
  }
  const { jobsFolder, system, person, settings } = context;
  const shelf = shelfOf(jobsFolder, system, { usual: person, sheet: settings?.labelSheet });
  return runScreens(start, shelf, context);
}

export type { Start } from './run.ts';

/**
 * The same job line by line, on standard input and output.
 *
 * @returns the program's exit code; 3 where the job cannot be opened
 */
export async function openPlain(
  start: Exclude<Start, { kind: 'jobs' | 'survey' }>,
  context: JobsAt,
  dialogue: { say(line: string): void; lines(): AsyncIterable<string>; err(line: string): void },
): Promise<number> {
  const { jobsFolder, system, person } = context;
  const shelf = shelfOf(jobsFolder, system, { usual: person });
  const port = start.kind === 'demo' ? shelf.openDemo() : shelf.open(start.dir);
  if (typeof port === 'string') {
    dialogue.err(port);
    return 3;
  }
  const lines = dialogue.lines()[Symbol.asyncIterator]();
  try {
    return await runPlain(port, {
      say: dialogue.say,
      hear: async () => {
        const { done, value } = await lines.next();
        if (done) return null;
        port.here();
        return value;
      },
    });
  } finally {
    port.close();
    await lines.return?.();
  }
}
