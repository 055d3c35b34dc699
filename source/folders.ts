import { tmpdir, userInfo } from 'node:os';
import { posix, win32 } from 'node:path';

/** What decides where a person's files stand. */
export type Surroundings = {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  readonly home: string;
};

/** The surroundings of this process, with an environment of its own where one is handed in. */
export function surroundings(env: Surroundings['env'] = process.env): Surroundings {
  return { env, platform: process.platform, home: homeOf(env) };
}

// An empty HOME is none: what `homedir` of Node then says is the folder that one happens to be in.
function homeOf(env: Surroundings['env']): string {
  if (env.HOME) return env.HOME;
  try {
    return userInfo().homedir || tmpdir();
  } catch {
    return tmpdir();
  }
}

/**
 * The folder of jobs where nothing else is said: the place of a person's data on each system (XDG Base Directory
 * Specification 0.8 on Linux; Apple and Microsoft name theirs).
 *
 * @example standardJobsFolder({ env: { XDG_DATA_HOME: '/d' }, platform: 'linux', home: '/h' }) // => '/d/loopward/jobs'
 */
export function standardJobsFolder({ env, platform, home }: Surroundings): string {
  if (platform === 'win32') return win32.join(localAppData({ env, home }), 'loopward', 'jobs');
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'loopward', 'jobs');
  return posix.join(named(env.XDG_DATA_HOME) ?? posix.join(home, '.local', 'share'), 'loopward', 'jobs');
}

/**
 * The settings file, likewise.
 *
 * @example settingsFile({ env: {}, platform: 'linux', home: '/h' }) // => '/h/.config/loopward/settings.json'
 */
export function settingsFile({ env, platform, home }: Surroundings): string {
  if (platform === 'win32') {
    const roaming = env.APPDATA || win32.join(home, 'AppData', 'Roaming');
    return win32.join(roaming, 'loopward', 'settings.json');
  }
  if (platform === 'darwin') return posix.join(home, 'Library', 'Preferences', 'loopward', 'settings.json');
  return posix.join(named(env.XDG_CONFIG_HOME) ?? posix.join(home, '.config'), 'loopward', 'settings.json');
}

/**
 * The folder of what can be made anew at any time, likewise.
 *
 * @example cacheFolder({ env: {}, platform: 'darwin', home: '/h' }) // => '/h/Library/Caches/loopward'
 */
export function cacheFolder({ env, platform, home }: Surroundings): string {
  if (platform === 'win32') return win32.join(localAppData({ env, home }), 'loopward', 'cache');
  if (platform === 'darwin') return posix.join(home, 'Library', 'Caches', 'loopward');
  return posix.join(named(env.XDG_CACHE_HOME) ?? posix.join(home, '.cache'), 'loopward');
}

function localAppData({ env, home }: Pick<Surroundings, 'env' | 'home'>): string {
  return env.LOCALAPPDATA || win32.join(home, 'AppData', 'Local');
}

/** The specification: a relative path in these variables is to be ignored. */
function named(path: string | undefined): string | null {
  return path?.startsWith('/') ? path : null;
}
