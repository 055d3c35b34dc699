import type { Start } from '../screens/open.ts';
import { readSettings } from '../settings.ts';
import type { Context, Given } from './command.ts';
import type { ExitCode } from './exit.ts';
import { jobsFolderOf } from './jobs-folder.ts';

/** Opens the screens. They and React are loaded only here, so that no other command pays for them. */
export async function showScreens(start: Start, given: Given, context: Context): Promise<ExitCode> {
  const { openScreens } = await import('../screens/open.ts');
  const { settings, trouble } = readSettings(context.env);
  if (trouble) context.err(trouble);
  const code = await openScreens(start, {
    system: context.system,
    settings,
    jobsFolder: jobsFolderOf(given, context),
  });
  return code as ExitCode;
}
