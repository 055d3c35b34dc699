import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildSync } from 'esbuild';
import { afterAll } from 'vitest';

/** A folder of its own for a test file, removed when the file is done. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-journal-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The writer as one file that any Node of the supported kind runs. */
export function bundleWriter(folder: string): string {
  const outfile = join(folder, 'writer.mjs');
  buildSync({
    entryPoints: [join(import.meta.dirname, 'writer.ts')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'error',
  });
  return outfile;
}

export type Acknowledged = { readonly n: number; readonly sha256: string };

export type Ended = {
  readonly lines: readonly string[];
  readonly errors: string;
  readonly code: number | null;
};

/** Runs the writer; `watch` sees every line it says and may end it. */
export function runWriter(
  writer: string,
  args: readonly (string | number)[],
  watch: (lines: readonly string[], child: ChildProcess) => void = () => {},
): Promise<Ended> {
  const child = spawn(process.execPath, [writer, ...args.map(String)]);
  const lines: string[] = [];
  let rest = '';
  let errors = '';
  child.stdout.on('data', (chunk: Buffer) => {
    rest += chunk.toString();
    const complete = rest.split('\n');
    rest = complete.pop()!;
    for (const line of complete) {
      lines.push(line);
      watch(lines, child);
    }
  });
  child.stderr.on('data', (chunk: Buffer) => {
    errors += chunk.toString();
  });
  return new Promise((resolve) => {
    child.on('close', (code) => resolve({ lines, errors, code }));
  });
}

/** Runs the writer under a shell line that sets the scene: `ulimit`, `umask`, another user. */
export function runUnder(scene: string, writer: string, args: readonly (string | number)[]) {
  const command = `${scene} exec "$0" "$@"`;
  const ended = spawnSync('bash', ['-c', command, process.execPath, writer, ...args.map(String)], {
    encoding: 'utf8',
  });
  return { said: ended.stdout.trim(), errors: ended.stderr, code: ended.status };
}
