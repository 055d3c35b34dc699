import { basename, resolve } from 'node:path';
import { LABEL_SHEETS } from '../handover/label-sheets.ts';
import { QUESTIONS } from '../handover/questions.ts';
import { bundledBoards } from '../job/bundled.ts';
import { findJob, jobsIn, jobTrouble } from '../job/jobs.ts';
import { FINDING_CODES } from '../plan/finding-codes.ts';
import { listFaults } from '../rehearsal/rehearse.ts';
import { readSettings, SETTING_KEYS, SETTINGS } from '../settings.ts';
import { CALCULATIONS } from './calculations.ts';
import type { Context } from './command.ts';
import { KINDS, type Names, namesIn } from './history-names.ts';
import { COMMANDS } from './table.ts';

type Line = { readonly typed: readonly string[]; readonly context: Context };

/** What the value of an option may be, by its name. */
const VALUES: Readonly<Record<string, (line: Line) => readonly string[]>> = {
  '--question': () => QUESTIONS.map(({ name }) => name),
  '--kind': () => KINDS,
  '--step': (line) => namesOfJob(line).step,
  '--zone': (line) => namesOfJob(line).zone,
  '--person': (line) => namesOfJob(line).person,
  '--explain': ({ typed }) => (typed[0] === 'plan' ? ['grouping', ...FINDING_CODES] : []),
  '--board': () => bundledBoards(),
  '--sheet': () => Object.keys(LABEL_SHEETS),
  '--fault': () => listFaults().map(({ name }) => name),
};

/** What an argument may be, by how the table of commands writes it. */
const ARGUMENTS: Readonly<Record<string, (line: Line) => readonly string[]>> = {
  job: jobNames,
  what: () => CALCULATIONS.map(({ name }) => name),
  name: () => SETTING_KEYS.map((key) => SETTINGS[key].name),
  value: ({ typed }) => {
    const key = SETTING_KEYS.find((one) => SETTINGS[one].name === typed[1]);
    const accepts = key === undefined ? '' : SETTINGS[key].accepts;
    return / or /.test(accepts) && /^[\w-]+( or [\w-]+)+$/.test(accepts) ? accepts.split(' or ') : [];
  },
  shell: () => ['bash', 'zsh', 'fish'],
};

/**
 * What may come next on a command line, beside its options and files: names of jobs, zones, settings and so on.
 *
 * @param typed the words before the cursor, without `loopward`
 */
export function offersAfter(typed: readonly string[], context: Context): readonly string[] {
  const line = { typed, context };
  if (typed.length === 0 || (typed.length === 1 && typed[0] === 'help'))
    return COMMANDS.map(({ name }) => name);
  const ofOption = VALUES[typed.at(-1) ?? ''];
  if (ofOption) return ofOption(line);
  const command = COMMANDS.find(({ name }) => name === typed[0]);
  const given = typed
    .slice(1)
    .filter((word, at, words) => !word.startsWith('-') && !takesValue(words[at - 1]));
  const next = command?.arguments[given.length]?.flags.replaceAll(/[<>[\]]/g, '') ?? '';
  return ARGUMENTS[next]?.(line) ?? [];
}

function takesValue(word: string | undefined): boolean {
  if (word === undefined || !word.startsWith('--')) return false;
  const options = COMMANDS.flatMap(({ options: all }) => all);
  return options.some(({ flags }) => flags.startsWith(`${word} <`));
}

function folderOf({ typed, context }: Line): string {
  const named = typed[typed.indexOf('--jobs') + 1];
  if (typed.includes('--jobs') && named !== undefined) return resolve(named);
  return context.env.LOOPWARD_HOME
    ? resolve(context.env.LOOPWARD_HOME)
    : readSettings(context.env).settings.jobsFolder;
}

function jobNames(line: Line): readonly string[] {
  return jobsIn(folderOf(line)).flatMap(({ dir, trouble }) => (trouble === null ? [basename(dir)] : []));
}

function namesOfJob(line: Line): Names {
  const path = findJob(line.typed[1] ?? '', () => folderOf(line));
  return path === null || jobTrouble(path) !== null
    ? { kind: [], step: [], zone: [], person: [] }
    : namesIn(path);
}
