import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { COMMANDS } from '../../source/commands/table.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { run } from '../commands/run.ts';
import { shipped } from '../shipped.ts';

const { out: script } = await run(['completion', 'bash']);

/** What bash offers with the cursor at the end of these words. */
function offered(program: string, ...words: string[]): string[] {
  const ask = `COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _loopward; printf '%s\\n' "\${COMPREPLY[@]}"`;
  const said = execFileSync('bash', ['-c', `${program}\n${script}\n${ask}`, 'bash', 'loopward', ...words], {
    encoding: 'utf8',
    cwd: import.meta.dirname,
  });
  return said.split('\n').filter(Boolean);
}

describe('bash completes', () => {
  test('the commands and the options of the program', () => {
    expect(offered('loopward() { :; }', '')).toEqual(
      expect.arrayContaining([...COMMANDS.map(({ name }) => name), '--help']),
    );
    expect(offered('loopward() { :; }', 'reh')).toEqual(['rehearse']);
    expect(offered('loopward() { :; }', '--vers')).toEqual(['--version']);
  });

  test('every option of every command', () => {
    for (const { name, options } of COMMANDS) {
      const long = options.map(({ flags }) => /--[\w-]+/.exec(flags)![0]);
      expect(offered('loopward() { :; }', name, '--').sort()).toEqual(long.sort());
    }
  });

  test('files where a command takes one', () => {
    expect(offered('loopward() { :; }', 'plan', 'shells')).toEqual(['shells.test.ts']);
  });

  test('what stands in the jobs folder and in a job, by asking the program', async () => {
    const home = mkdtempSync(join(tmpdir(), 'loopward-shell-'));
    const env = { HOME: home, LOOPWARD_HOME: join(home, 'jobs') };
    await run(['start', bundledFile(DEMO_SURVEY), '--job', join(home, 'jobs', 'club')], { env });
    await run(['act', 'club', '{"do":"start-shift","name":"Ada Lovett","instrument":"m"}'], { env });
    const program = `loopward() { HOME=${home} LOOPWARD_HOME=${home}/jobs ${process.execPath} ${shipped()} "$@"; }`;
    const at = (...words: string[]) => offered(program, ...words);
    expect(at('next', 'cl')).toContain('club');
    expect(at('history', 'club', '--zone', 'z')).toEqual(['z1', 'z2', 'z3', 'z4', 'z5', 'z6', 'z7']);
    expect(at('history', 'club', '--person', 'Ada')).toEqual(['Ada Lovett']);
    expect(at('history', 'club', '--kind', 'che')).toEqual(['checkpoint']);
    expect(at('history', 'club', '--question', 'res')).toEqual(['resistors']);
    expect(at('history', 'club', '--step', 'plan.')).toEqual(['plan.accept']);
    expect(at('plan', 'x', '--explain', 'aux-ov')).toEqual(['aux-overloaded']);
    expect(at('plan', 'x', '--board', 'six')).toEqual(['six-paired']);
    expect(at('settings', 'un')).toEqual(['units']);
    expect(at('settings', 'units', '')).toEqual(expect.arrayContaining(['metric', 'imperial']));
    expect(at('compute', 'bat')).toEqual(['battery']);
    expect(at('rehearse', 'x', '--fault', 'resistor-at')).toEqual(['resistor-at-detector']);
    expect(at('help', 'rehe')).toEqual(['rehearse']);
    rmSync(home, { recursive: true });
  });
});
