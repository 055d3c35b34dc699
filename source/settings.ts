import { chmodSync, existsSync, mkdirSync, readFileSync, renameSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { type Surroundings, settingsFile, standardJobsFolder, surroundings } from './folders.ts';
import { readLabelSheet, SHEETS_ACCEPTED } from './handover/label-sheets.ts';

/** What a person prefers. Preferences only: nothing here opens a gate, and no job rests on it. */
type Settings = {
  readonly units: 'metric' | 'imperial';
  /** Who works here as a rule: offered at the start of a shift. */
  readonly person: string;
  readonly jobsFolder: string;
  /** Minutes that a new survey's `policy` starts with; a job keeps its own. */
  readonly interruptionMinutes: number;
  readonly palette: 'dark' | 'light' | 'none';
  readonly glyphs: 'unicode' | 'ascii';
  readonly bell: 'on' | 'off';
  /** The name of a sheet that ships, or its sizes. */
  readonly labelSheet: string;
};
/** A setting by its name in the program. */
export type SettingKey = keyof Settings;

type Setting = {
  /** As it is written on the command line. */
  readonly name: string;
  readonly says: string;
  readonly accepts: string;
  readonly standard: (around: Surroundings) => string | number;
  /** The value of what was typed, or null where it is none. */
  readonly read: (typed: string) => string | number | null;
};

const oneOf = (...values: string[]): Pick<Setting, 'accepts' | 'read'> => ({
  accepts: values.join(' or '),
  read: (typed) => (values.includes(typed) ? typed : null),
});

/** Every setting, in the order in which they are shown. */
export const SETTINGS: Readonly<Record<SettingKey, Setting>> = {
  units: {
    name: 'units',
    says: 'metres and mm², or feet and AWG',
    standard: () => 'metric',
    ...oneOf('metric', 'imperial'),
  },
  person: {
    name: 'person',
    says: 'who works here as a rule',
    accepts: 'a name of at most 60 characters',
    standard: () => '',
    read: (typed) => (typed.trim().length <= 60 && !/\p{Cc}/u.test(typed) ? typed.trim() : null),
  },
  jobsFolder: {
    name: 'jobs-folder',
    says: 'where jobs are kept',
    accepts: 'a folder',
    standard: standardJobsFolder,
    read: (typed) => (typed.trim() === '' || typed.includes('\0') ? null : resolve(typed.trim())),
  },
  interruptionMinutes: {
    name: 'interruption-minutes',
    says: 'the break after which dead must be proved again, for new surveys',
    accepts: 'whole minutes, 5 to 60',
    standard: () => 15,
    read: (typed) => (/^\d{1,2}$/.test(typed) && +typed >= 5 && +typed <= 60 ? +typed : null),
  },
  palette: {
    name: 'palette',
    says: 'colours for a dark or a light background, or none',
    standard: () => 'dark',
    ...oneOf('dark', 'light', 'none'),
  },
  glyphs: {
    name: 'glyphs',
    says: 'drawn signs, or ASCII alone',
    standard: () => 'unicode',
    ...oneOf('unicode', 'ascii'),
  },
  bell: {
    name: 'bell',
    says: 'whether the terminal rings when a detector is heard',
    standard: () => 'on',
    ...oneOf('on', 'off'),
  },
  labelSheet: {
    name: 'label-sheet',
    says: 'the sheet wire labels are laid out for',
    standard: () => 'a4-65',
    accepts: SHEETS_ACCEPTED,
    read: (typed) => (readLabelSheet(typed) === null ? null : typed.trim()),
  },
};
/** All of them, in the order in which they are shown. */
export const SETTING_KEYS = Object.keys(SETTINGS) as SettingKey[];

/** Where a value in force came from. */
type Origin = 'default' | 'settings file' | 'LOOPWARD_HOME';

/** The settings in force, and where each came from. */
type SettingsRead = {
  readonly settings: Settings;
  readonly from: Readonly<Record<SettingKey, Origin>>;
  /** What is in force where nothing is said. */
  readonly standards: Readonly<Record<SettingKey, string | number>>;
  readonly file: string;
  /** What is wrong with the file, and what is done about it; null where nothing is. */
  readonly trouble: string | null;
};

/** Reads the settings. A file that cannot be read harms nothing: the defaults are in force, and it is said so. */
export function readSettings(env: Surroundings['env'] = process.env): SettingsRead {
  const around = surroundings(env);
  const file = settingsFile(around);
  const store = readStore(file);
  const settings: Record<string, string | number> = {};
  const from: Record<string, Origin> = {};
  const standards: Record<string, string | number> = {};
  const unfit: string[] = [];
  for (const key of SETTING_KEYS) {
    const held = store?.[key];
    const value = held === undefined ? null : SETTINGS[key].read(String(held));
    if (held !== undefined && value === null) unfit.push(SETTINGS[key].name);
    standards[key] = SETTINGS[key].standard(around);
    settings[key] = value ?? standards[key];
    from[key] = value === null ? 'default' : 'settings file';
  }
  if (env.LOOPWARD_HOME) {
    settings.jobsFolder = resolve(env.LOOPWARD_HOME);
    from.jobsFolder = 'LOOPWARD_HOME';
  }
  return {
    settings: settings as unknown as Settings,
    from: from as Record<SettingKey, Origin>,
    standards: standards as Record<SettingKey, string | number>,
    file,
    trouble: store
      ? unfitSays(file, unfit)
      : `${file} cannot be read. The defaults are in force, and no job is touched.`,
  };
}

function unfitSays(file: string, unfit: readonly string[]): string | null {
  if (unfit.length === 0) return null;
  return `${file} holds no fitting value of ${unfit.join(', ')}. The default is in force.`;
}

/**
 * Keeps one setting, or with null goes back to its default.
 *
 * @returns what was done about a file that could not be read, or null
 * @throws Error in a sentence, where what was typed is no value of it
 */
export async function writeSetting(
  key: SettingKey,
  typed: string | null,
  env: Surroundings['env'] = process.env,
): Promise<string | null> {
  const value = typed === null ? null : SETTINGS[key].read(typed);
  if (typed !== null && value === null) {
    throw new Error(
      `${SETTINGS[key].name} cannot be ${JSON.stringify(typed)}. Give ${SETTINGS[key].accepts}.`,
    );
  }
  const file = settingsFile(surroundings(env));
  const unreadable = readStore(file) === null;
  // Kept beside for whoever wants to mend it, instead of being written over.
  if (unreadable) renameSync(file, `${file}.unreadable`);
  keepForOwner(dirname(file));
  // Loaded only to write: it brings a schema compiler that no reader needs.
  const { default: Conf } = await import('conf');
  const conf = new Conf<Record<string, string | number>>({
    cwd: dirname(file),
    configName: 'settings',
    configFileMode: 0o600,
    clearInvalidConfig: false,
  });
  if (value === null) conf.delete(key);
  else conf.set(key, value);
  return unreadable ? `The settings could not be read. They were put aside as ${file}.unreadable.` : null;
}

/** The folder is the program's own, and names stand in it. */
function keepForOwner(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  if ((statSync(folder).mode & 0o077) !== 0) chmodSync(folder, 0o700);
}

/** What the file holds, or null where it cannot be understood. */
function readStore(file: string): Readonly<Record<string, unknown>> | null {
  if (!existsSync(file)) return {};
  try {
    const held: unknown = JSON.parse(readFileSync(file, 'utf8'));
    return typeof held === 'object' && held !== null && !Array.isArray(held) ? { ...held } : null;
  } catch {
    return null;
  }
}
