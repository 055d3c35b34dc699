import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
} from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
/** Everything that a build is made from. */
const MADE_FROM = ['.config', 'source', 'package.json', 'package-lock.json'];
/** Builds that are kept: those of the last changes. */
const MOST_KEPT = 4;

/**
 * The file that starts the program as it ships: `dist/cli.js` of a build by the project's own script from the sources as they
 * stand now, whatever stands in the checkout's `dist`. It is made once for all tests until a source changes.
 */
export function shipped(): string {
  const builds = join(ROOT, 'node_modules/.cache/shipped');
  const folder = join(builds, digestOfSources());
  if (!existsSync(folder)) {
    mkdirSync(builds, { recursive: true });
    const half = `${folder}.${process.pid}`;
    execFileSync(process.execPath, [join(ROOT, '.config/build.mjs'), join(half, 'dist')]);
    symlinkSync(join(ROOT, 'fixtures'), join(half, 'fixtures'));
    try {
      renameSync(half, folder);
    } catch {
      // Another test made the same meanwhile.
      rmSync(half, { recursive: true, force: true });
    }
    dropOld(builds, folder);
  }
  return join(folder, 'dist/cli.js');
}

/** One command line of the program as it ships, in a home of its own. */
export function runShipped(
  argv: readonly string[],
  { home, input = '', env = {} }: { home: string; input?: string; env?: Record<string, string> },
): { readonly code: number | null; readonly out: string; readonly err: string } {
  const { status, stdout, stderr } = spawnSync(process.execPath, [shipped(), ...argv], {
    encoding: 'utf8',
    input,
    env: { PATH: process.env.PATH, HOME: home, ...env },
  });
  return { code: status, out: stdout, err: stderr };
}

function digestOfSources(): string {
  const hash = createHash('sha256');
  for (const name of MADE_FROM) {
    const path = join(ROOT, name);
    const files = name.endsWith('.json')
      ? [path]
      : readdirSync(path, { recursive: true, withFileTypes: true })
          .filter((entry) => entry.isFile())
          .map((entry) => join(entry.parentPath, entry.name))
          .sort();
    for (const file of files)
      hash
        .update(`${file.slice(ROOT.length)}\0`)
        .update(readFileSync(file))
        .update('\0');
  }
  return hash.digest('hex').slice(0, 24);
}

function dropOld(builds: string, newest: string): void {
  const others = readdirSync(builds, { withFileTypes: true })
    .filter((entry) => /^[0-9a-f]{24}$/.test(entry.name) && join(builds, entry.name) !== newest)
    .map((entry) => join(builds, entry.name))
    .sort((one, other) => statSync(one).mtimeMs - statSync(other).mtimeMs);
  for (const old of others.slice(0, Math.max(0, others.length - MOST_KEPT + 1)))
    rmSync(old, { recursive: true, force: true });
}
