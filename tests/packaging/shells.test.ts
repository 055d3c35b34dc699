import { execFileSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { COMMANDS } from '../../source/commands/table.ts';
import { run } from '../commands/run.ts';

const { out: script } = await run(['completion', 'bash']);

/** What bash offers with the cursor at the end of these words. */
function offered(...words: string[]): string[] {
  const ask = `COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _loopward; printf '%s\\n' "\${COMPREPLY[@]}"`;
  const said = execFileSync('bash', ['-c', `${script}\n${ask}`, 'bash', 'loopward', ...words], {
    encoding: 'utf8',
    cwd: import.meta.dirname,
  });
  return said.split('\n').filter(Boolean);
}

describe('bash completes', () => {
  test('the commands and the options of the program', () => {
    expect(offered('')).toEqual(expect.arrayContaining([...COMMANDS.map(({ name }) => name), '--help']));
    expect(offered('reh')).toEqual(['rehearse']);
    expect(offered('--vers')).toEqual(['--version']);
  });

  test('every option of every command', () => {
    for (const { name, options } of COMMANDS) {
      const long = options.map(({ flags }) => /--[\w-]+/.exec(flags)![0]);
      expect(offered(name, '--').sort()).toEqual(long.sort());
    }
  });

  test('files where a command takes one', () => {
    expect(offered('plan', 'shells')).toEqual(['shells.test.ts']);
  });
});
