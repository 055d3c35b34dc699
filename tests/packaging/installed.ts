import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { spawn } from '@lydell/node-pty';

const ROOT = resolve(import.meta.dirname, '../..');
/** What the package is made from: a build of its own, so that nobody's `dist/` changes under a test. */
const MADE_FROM = ['.config', 'source', 'fixtures', 'package.json', 'README.md', 'LICENSE', 'tests'];

const scratch: string[] = [];
process.once('exit', () => {
  for (const folder of scratch) rmSync(folder, { recursive: true, force: true });
});

/** A folder that goes away with the process. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-packaging-'));
  scratch.push(folder);
  return folder;
}

/** What npm says of a package it packed. */
export type Packed = {
  readonly filename: string;
  readonly size: number;
  readonly files: readonly { readonly path: string }[];
};

/** Builds and packs the checkout, and answers with the tarball and what npm says of it. */
export function packed(): { readonly tarball: string; readonly says: Packed; readonly checkout: string } {
  const checkout = scratchFolder();
  for (const name of MADE_FROM) cpSync(join(ROOT, name), join(checkout, name), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(checkout, 'node_modules'));
  execFileSync(process.execPath, ['.config/build.mjs'], { cwd: checkout });
  const told = npm(['pack', '--json', '--ignore-scripts'], { cwd: checkout });
  // npm 11 tells a list, npm 12 an object by name.
  const [says] = Object.values(JSON.parse(told) as Record<string, Packed>);
  return { tarball: join(checkout, says!.filename), says: says!, checkout };
}

/** npm of this machine, run by a node of choice, in a home of its own and without a network. */
export function npm(args: readonly string[], options: { cwd?: string; home?: string; node?: string } = {}) {
  const { cwd = scratchFolder(), home = scratchFolder(), node = process.execPath } = options;
  return execFileSync('npm', [...args, '--offline', '--no-audit', '--no-fund', '--no-update-notifier'], {
    cwd,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { PATH: `${dirname(node)}:${process.env.PATH}`, HOME: home, npm_config_cache: join(home, 'npm') },
  });
}

/** The program installed for everybody below a prefix, as its users have it on their path. */
export class Installed {
  home = scratchFolder();
  readonly #prefix = scratchFolder();
  readonly #node: string;

  constructor(tarball: string, node = process.execPath) {
    this.#node = node;
    mkdirSync(join(this.#prefix, 'lib'), { recursive: true });
    npm(['install', '--global', '--prefix', this.#prefix, tarball], { node });
  }

  run(...args: readonly string[]): {
    readonly code: number | null;
    readonly out: string;
    readonly err: string;
  } {
    const { status, stdout, stderr } = spawnSync(this.command, args, {
      cwd: this.#prefix,
      encoding: 'utf8',
      env: { PATH: `${dirname(this.#node)}:${process.env.PATH}`, HOME: this.home },
    });
    return { code: status, out: stdout, err: stderr };
  }

  /** What a shell starts under the name `loopward`. */
  get command(): string {
    return join(this.#prefix, 'bin/loopward');
  }

  /** The folder of the node that runs it. */
  get nodeFolder(): string {
    return dirname(this.#node);
  }

  /** Where its files stand. */
  get folder(): string {
    return join(this.#prefix, 'lib/node_modules/loopward');
  }
}

/** What a program in a terminal wrote, without what only moves or colours, and how it ended. */
export type Talked = { readonly code: number; readonly text: string; readonly raw: string };

/** Starts a program in a terminal and types, each time that what it waits for was written since; then waits for its end. */
export function talk(
  file: string,
  args: readonly string[],
  turns: readonly (readonly [sees: string, types: string])[],
  options: { readonly cwd: string; readonly env: Record<string, string> },
  kind = 'xterm-256color',
): Promise<Talked> {
  const { cwd, env } = options;
  const terminal = spawn(file, [...args], {
    cols: 80,
    rows: 24,
    cwd,
    env: { ...env, TERM: kind },
  });
  return new Promise((done) => {
    let raw = '';
    let from = 0;
    const left = [...turns];
    const timer = setTimeout(() => terminal.kill('SIGKILL'), 20_000);
    terminal.onData((data) => {
      raw += data;
      for (let [turn] = left; turn !== undefined; [turn] = left) {
        const text = shown(raw);
        const at = text.indexOf(turn[0], from);
        if (at < 0) return;
        from = at + turn[0].length;
        left.shift();
        terminal.write(turn[1]);
      }
    });
    terminal.onExit(({ exitCode, signal }) => {
      clearTimeout(timer);
      const unseen = left.map(([sees]) => `\nNever saw: ${sees}`).join('');
      done({ code: signal ? 128 + signal : exitCode, text: shown(raw) + unseen, raw });
    });
  });
}

const shown = (raw: string) => raw.replaceAll(/\x1b(?:\[[0-?]*[ -/]*[@-~]|.)/g, '').replaceAll('\r', '');
