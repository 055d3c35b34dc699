import type { Start } from '../screens/open.ts';
import { readSettings, writeSetting } from '../settings.ts';
import type { Context, Given } from './command.ts';
import { Ending, type ExitCode } from './exit.ts';
import { jobsFolderOf } from './jobs-folder.ts';

/**
 * Opens the screens, or with `--plain` the same job line by line. They and React are loaded only here, so that no
 * other command pays for them.
 */
export async function showScreens(start: Start, given: Given, context: Context): Promise<ExitCode> {
  const { settings, trouble } = readSettings(context.env);
  if (trouble) context.err(trouble);
  const { person } = settings;
  const jobsFolder = jobsFolderOf(given, context);
  const shared = { system: context.system, jobsFolder, settings, person };
  const screens = await import('../screens/open.ts');
  const isDumb = context.env.TERM === 'dumb';
  if (given.has('plain') || isDumb) {
    if (start.kind === 'jobs' || start.kind === 'survey') {
      const why = given.has('plain') ? '' : 'This terminal (TERM=dumb) shows no screens. ';
      throw new Ending('usage', `${why}--plain works on one job. Say loopward resume JOB --plain.`);
    }
    const { out: say, err, lines } = context;
    return (await screens.openPlain(start, shared, { say, err, lines })) as ExitCode;
  }
  const saveSettings = (chosen: Pick<typeof settings, 'units' | 'palette' | 'glyphs' | 'bell'>) => {
    // What is shown changes at once; a file that cannot be written costs the next start, not this one.
    void save(chosen, context).catch(() => undefined);
  };
  return (await screens.openScreens(start, { ...shared, saveSettings })) as ExitCode;
}

async function save(
  chosen: Readonly<Record<'units' | 'palette' | 'glyphs' | 'bell', string>>,
  { env }: Context,
): Promise<void> {
  for (const key of ['units', 'palette', 'glyphs', 'bell'] as const)
    await writeSetting(key, chosen[key], env);
}
