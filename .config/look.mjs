// Bundles tests/screens/look.ts beside the packages and runs it: `npm run look`.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
const cache = join(root, 'node_modules/.cache');
mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'look-'));
try {
  // The files that ship stand beside it, as in a checkout.
  symlinkSync(join(root, 'fixtures'), join(folder, 'fixtures'));
  const outfile = join(folder, 'dist/look.mjs');
  buildSync({
    absWorkingDir: root,
    entryPoints: ['tests/screens/look.ts'],
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    packages: 'external',
    jsx: 'automatic',
  });
  const env = { ...process.env, NODE_ENV: 'production' };
  process.exitCode =
    spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { stdio: 'inherit', env }).status ?? 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
