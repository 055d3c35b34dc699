import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { runProgram } from '../../source/commands/program.ts';
import { COMMANDS } from '../../source/commands/table.ts';
import { realSystem } from '../../source/journal/system.ts';
import { run } from './run.ts';

describe('the command line', () => {
  test('help fits one screen and names every command', async () => {
    const { code, out } = await run(['--help']);
    expect(code).toBe(0);
    for (const { name } of COMMANDS) expect(out).toContain(`  ${name} `);
    expect(out.split('\n').length).toBeLessThanOrEqual(23);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('every command shows its example', async () => {
    for (const { name, example } of COMMANDS) {
      const { code, out } = await run([name, '--help']);
      expect(code).toBe(0);
      expect(out).toContain(`$ ${example}`);
      expect(out).toContain(`Usage: loopward ${name}`);
    }
  });

  test('the version is that of the package', async () => {
    const manifest = JSON.parse(readFileSync(resolve(import.meta.dirname, '../../package.json'), 'utf8'));
    expect(await run(['--version'])).toMatchObject({ code: 0, out: manifest.version });
  });

  test.each([
    [['nonsense'], 'nonsense'],
    [['next'], 'job'],
    [['next', 'no-such-job', '--jobs', '/nowhere'], 'no-such-job'],
    [['start', '/no/such/survey.yaml'], 'survey.yaml'],
    [['plan', '--nonsense'], 'nonsense'],
    [['history', '/nowhere/journal.jsonl'], 'journal.jsonl'],
  ])('wrong use exits 2 with a sentence and no stack: %s', async (argv, names) => {
    const { code, out, err } = await run(argv);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(names);
    expect(err).not.toMatch(/\n\s+at |node:internal/);
  });

  test('without a terminal the bare command says how to go on, exit 2, and asks nothing', async () => {
    const { code, out, err } = await run([]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('loopward demo');
  });

  test('a defect exits 1 with one sentence and no stack', async () => {
    const err: string[] = [];
    const code = await runProgram(['manual'], {
      out: () => {
        throw new TypeError('out of order');
      },
      err: (line) => err.push(line),
      drawing: () => undefined,
      lines: async function* () {},
      terminal: false,
      columns: 80,
      env: {},
      system: realSystem(),
    });
    expect(code).toBe(1);
    expect(err).toHaveLength(1);
    expect(err[0]).toContain('out of order');
    expect(err[0]).not.toContain('\n');
  });
});

describe('completion and manual page', () => {
  test.each(['bash', 'zsh', 'fish'])('%s completes every command and option', async (shell) => {
    const { code, out } = await run(['completion', shell]);
    expect(code).toBe(0);
    for (const { name, options } of COMMANDS) {
      expect(out).toContain(name);
      for (const { flags } of options) expect(out).toContain(/--([\w-]+)/.exec(flags)?.[1]);
    }
  });

  test('another shell is wrong use', async () => {
    expect(await run(['completion', 'csh'])).toMatchObject({ code: 2, out: '' });
  });

  test('the manual page has a section for every command and its example', async () => {
    const { out } = await run(['manual']);
    for (const { name } of COMMANDS) expect(out).toMatch(new RegExp(`^\\.SS ${name}`, 'm'));
    expect(out).not.toMatch(/^'(?!\\")/m);
    expect(out).toMatch(/^\p{ASCII}+$/u);
  });
});
