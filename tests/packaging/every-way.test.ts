import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { COMMANDS } from '../../source/commands/table.ts';
import { Installed, packed, scratchFolder, talk } from './installed.ts';
import { CHANGE, WAYS, type Way } from './ways.ts';

const SURVEY = resolve(import.meta.dirname, '../../fixtures/sailing-club/survey.yaml');
const MINUTE = 60_000;

/** The program in the hands of somebody who has nothing of this project but what was handed out. */
type Handed = { readonly command: string; readonly path: string };
let packages: Handed;
let executable: Handed;
beforeAll(() => {
  const pack = packed();
  const installed = new Installed(pack.tarball);
  packages = { command: installed.command, path: `${installed.nodeFolder}:${process.env.PATH}` };
  const folder = scratchFolder();
  execFileSync(process.execPath, ['.config/executable.mjs', folder], { cwd: pack.checkout, stdio: 'pipe' });
  executable = { command: join(folder, 'loopward'), path: '' };
}, 3 * MINUTE);

/** An empty folder with a survey in it, and a home where nothing is. */
function stranger({ command, path }: Handed) {
  const cwd = scratchFolder();
  copyFileSync(SURVEY, join(cwd, 'survey.yaml'));
  writeFileSync(join(cwd, 'change.yaml'), CHANGE);
  const env = { HOME: scratchFolder(), PATH: path, LANG: 'C.UTF-8' };
  return async ({ argv, input = '', terminal }: Pick<Way, 'argv' | 'input' | 'terminal'>) => {
    if (terminal) return { ...(await talk(command, argv, terminal, { cwd, env })), err: '' };
    const ran = spawnSync(command, argv, { cwd, env, input, encoding: 'utf8' });
    return { code: ran.status, text: ran.stdout, err: ran.stderr };
  };
}

describe.each([
  ['the package, installed', () => packages],
  ['the executable, without any Node', () => executable],
])('%s', (_, handed) => {
  test('every command answers in every mode', { timeout: 5 * MINUTE }, async () => {
    const start = stranger(handed());
    for (const way of WAYS) {
      const { code, text, err } = await start(way);
      const told = `loopward ${way.argv.join(' ')}\n${text.slice(-1500)}\n${err}`;
      expect(code, told).toBe(way.code);
      expect(text, told).toMatch(way.out ?? /(?:)/);
      expect(text, told).not.toContain('Never saw');
      expect(err, told).toMatch(way.err ?? /^$/);
      expect(text + err, told).not.toMatch(/met a defect|ended the screens/);
      // One document, or of what happens over time one a line.
      const documents = way.argv[0] === 'listen' ? text.trim().split('\n') : [text];
      if (way.argv.includes('--json') && way.code !== 2)
        for (const one of documents) expect(() => JSON.parse(one), told).not.toThrow();
    }
  });

  test('every command tells its help, and the example in it works as it stands', {
    timeout: 3 * MINUTE,
  }, async () => {
    const start = stranger(handed());
    await start({ argv: ['start', 'survey.yaml', '--board', 'six-paired', '--job', 'club'] });
    for (const { name, example } of COMMANDS) {
      const help = await start({ argv: [name, '--help'] });
      expect(help).toMatchObject({ code: 0, err: '' });
      expect(help.text).toContain(example);
      if (IN_A_TERMINAL.has(name)) continue;
      const argv = AS_TYPED.get(name) ?? words(example);
      const { code, err } = await start({ argv });
      expect({ example, code, err }).toEqual({ example, code: 0, err: '' });
    }
  });
});

/** Examples that need a terminal, or a board that is heard. */
const IN_A_TERMINAL = new Set(['survey', 'resume', 'listen']);
/** Examples that are for a shell, or come after another one: what is typed instead. */
const AS_TYPED = new Map<string, readonly string[]>([
  ['start', ['start', 'survey.yaml', '--board', 'six-paired', '--job', './club-1']],
  ['carry-on', ['carry-on', './club', '--job', './stick']],
  ['verify', ['verify', './club']],
  ['history', ['history', './club']],
  ['completion', ['completion', 'bash']],
  ['manual', ['manual']],
]);

/** The words of an example as a shell hands them to the program. */
function words(example: string): readonly string[] {
  const told = execFileSync('bash', ['-c', `set -- ${example}; printf '%s\\0' "$@"`], { encoding: 'utf8' });
  return told.split('\0').slice(1, -1);
}

test('no command and no option is left out of what is tried', () => {
  const tried = (name: string) => WAYS.filter(({ argv }) => argv[0] === name);
  const left = COMMANDS.flatMap(({ name, options }) => [
    ...(tried(name).length === 0 ? [name] : []),
    ...options
      .map(({ flags }) => /--[\w-]+/.exec(flags)![0])
      .filter((flag) => !tried(name).some(({ argv }) => argv.includes(flag)))
      .map((flag) => `${name} ${flag}`),
  ]);
  // A new one gets its row in `ways.ts`.
  expect(left).toEqual([]);
});
