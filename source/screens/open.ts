import type { System } from '../journal/system.ts';
import { runScreens, type ScreensContext, type Start } from './run.ts';
import { shelfOf } from './shelf.ts';

/**
 * Opens the screens on the jobs of a folder.
 *
 * @returns the program's exit code; 2 without a terminal
 */
export async function openScreens(
  start: Start,
  context: ScreensContext & { readonly system: System; readonly jobsFolder: string },
): Promise<number> {
  if (!process.stdin.isTTY || !process.stdout.isTTY) {
    process.stderr.write('The screens need a terminal. Use --plain, or the commands next and act.\n');
    return 2;
  }
  return runScreens(start, shelfOf(context.jobsFolder, context.system), context);
}

export type { Start } from './run.ts';
