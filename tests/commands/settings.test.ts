import { existsSync, mkdirSync, mkdtempSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { cacheFolder, settingsFile, standardJobsFolder } from '../../source/folders.ts';
import { readSettings, SETTING_KEYS, writeSetting } from '../../source/settings.ts';
import { run } from './run.ts';

const home = () => {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-settings-'));
  return { HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_DATA_HOME: join(folder, 'data') };
};

describe('settings', () => {
  test('each has a default, and says so', () => {
    const { settings, from, trouble } = readSettings(home());
    expect(trouble).toBeNull();
    expect(new Set(Object.values(from))).toEqual(new Set(['default']));
    expect(Object.keys(settings).sort()).toEqual([...SETTING_KEYS].sort());
    expect(settings.interruptionMinutes).toBe(15);
  });

  test('reading makes no file and no folder', () => {
    const env = home();
    readSettings(env);
    expect(existsSync(env.XDG_CONFIG_HOME)).toBe(false);
  });

  test('what is kept is read again, 0600 in the XDG folder, and given up by --default', async () => {
    const env = home();
    expect((await run(['settings', 'units', 'imperial'], { env })).code).toBe(0);
    const file = join(env.XDG_CONFIG_HOME, 'loopward', 'settings.json');
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(join(file, '..')).mode & 0o777).toBe(0o700);
    expect(readSettings(env)).toMatchObject({
      settings: { units: 'imperial' },
      from: { units: 'settings file', glyphs: 'default' },
    });
    await run(['settings', 'units', '--default'], { env });
    expect(readSettings(env)).toMatchObject({ settings: { units: 'metric' }, from: { units: 'default' } });
  });

  test.each([
    ['units', 'furlongs'],
    ['interruption-minutes', '4'],
    ['interruption-minutes', '61'],
    ['interruption-minutes', 'never'],
    ['palette', 'purple'],
    ['nonsense', 'x'],
  ])('%s refuses %j where it is no value of it', async (name, value) => {
    const { code, err } = await run(['settings', name, value], { env: home() });
    expect(code).toBe(2);
    expect(err).not.toBe('');
  });

  test('the break after which dead is proved again cannot be set off: 5 to 60 minutes', async () => {
    const env = home();
    for (const minutes of ['5', '60']) {
      expect((await run(['settings', 'interruption-minutes', minutes], { env })).code).toBe(0);
    }
  });

  test.each([
    ['cut off', '{"units": "imp'],
    ['not an object', '[1, 2]'],
    ['empty', ''],
    ['of zeros', '\0\0\0\0'],
  ])('a file that is %s harms nothing, is said, and is put aside when something is kept', async (_, text) => {
    const env = home();
    const file = settingsFile({ env, platform: process.platform, home: env.HOME });
    mkdirSync(join(file, '..'), { recursive: true });
    writeFileSync(file, text);
    const { settings, trouble } = readSettings(env);
    expect(settings.units).toBe('metric');
    expect(trouble).toContain('defaults are in force');
    const { code, err } = await run(['settings', 'units', 'imperial'], { env });
    expect(code).toBe(0);
    expect(err).toContain('put aside');
    expect(readFileSync(`${file}.unreadable`, 'utf8')).toBe(text);
    expect(readSettings(env).settings.units).toBe('imperial');
  });

  test('a value that no longer fits gives way to the default, and is named', () => {
    const env = home();
    const file = settingsFile({ env, platform: process.platform, home: env.HOME });
    mkdirSync(join(file, '..'), { recursive: true });
    writeFileSync(file, JSON.stringify({ interruptionMinutes: 500, units: 'imperial' }));
    const { settings, trouble } = readSettings(env);
    expect(settings).toMatchObject({ interruptionMinutes: 15, units: 'imperial' });
    expect(trouble).toContain('interruption-minutes');
  });

  test('LOOPWARD_HOME goes over the settings for the jobs folder', async () => {
    const env = { ...home(), LOOPWARD_HOME: '/somewhere/jobs' };
    await writeSetting('jobsFolder', '/elsewhere', env);
    expect(readSettings(env)).toMatchObject({
      settings: { jobsFolder: '/somewhere/jobs' },
      from: { jobsFolder: 'LOOPWARD_HOME' },
    });
  });

  // XDG Base Directory Specification 0.8; Apple, File System Programming Guide; Microsoft, Known Folders.
  test.each([
    ['linux', {}, '/h/.local/share/loopward/jobs', '/h/.config/loopward/settings.json', '/h/.cache/loopward'],
    [
      'linux',
      { XDG_DATA_HOME: 'relative', XDG_CONFIG_HOME: 'relative', XDG_CACHE_HOME: 'relative' },
      '/h/.local/share/loopward/jobs',
      '/h/.config/loopward/settings.json',
      '/h/.cache/loopward',
    ],
    [
      'linux',
      { XDG_DATA_HOME: '/d', XDG_CONFIG_HOME: '/c', XDG_CACHE_HOME: '/k' },
      '/d/loopward/jobs',
      '/c/loopward/settings.json',
      '/k/loopward',
    ],
    [
      'darwin',
      { XDG_DATA_HOME: '/d', XDG_CONFIG_HOME: '/c', XDG_CACHE_HOME: '/k' },
      '/h/Library/Application Support/loopward/jobs',
      '/h/Library/Preferences/loopward/settings.json',
      '/h/Library/Caches/loopward',
    ],
    [
      'win32',
      { LOCALAPPDATA: 'C:\\l', APPDATA: 'C:\\r' },
      'C:\\l\\loopward\\jobs',
      'C:\\r\\loopward\\settings.json',
      'C:\\l\\loopward\\cache',
    ],
    [
      'win32',
      {},
      '\\h\\AppData\\Local\\loopward\\jobs',
      '\\h\\AppData\\Roaming\\loopward\\settings.json',
      '\\h\\AppData\\Local\\loopward\\cache',
    ],
  ] as const)('paths on %s with %j', (platform, env, jobs, settings, cache) => {
    const around = { env, platform, home: '/h' };
    expect(standardJobsFolder(around)).toBe(jobs);
    expect(settingsFile(around)).toBe(settings);
    expect(cacheFolder(around)).toBe(cache);
  });

  test('what was chosen is shown beside the default and where it came from', async () => {
    const env = home();
    await run(['settings', 'units', 'imperial'], { env });
    const { out } = await run(['settings'], { env });
    expect(out).toMatch(/^units +imperial {2}\[settings file; default metric\]$/m);
    expect(out).toMatch(/^palette +dark {2}\[default\]$/m);
    expect((await run(['settings', 'units', '--json'], { env })).json).toMatchObject({
      settings: [{ name: 'units', value: 'imperial', from: 'settings file', default: 'metric' }],
    });
  });

  test('--json tells every setting and where it came from', async () => {
    const { json } = await run(['settings', '--json'], { env: home() });
    expect(json).toMatchObject({ format: 'loopward/settings@1' });
    expect((json as { settings: unknown[] }).settings).toHaveLength(SETTING_KEYS.length);
  });
});
