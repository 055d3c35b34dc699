// One bundled file, so that start-up reads little and an installed package needs nothing beside it.
// Screens, documents and React stay in chunks of their own, loaded when a command needs them.
import { chmod, rm } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('..', import.meta.url));
await rm(`${root}dist`, { recursive: true, force: true });
await build({
  absWorkingDir: root,
  entryPoints: { cli: 'source/cli.ts' },
  outdir: 'dist',
  bundle: true,
  splitting: true,
  chunkNames: 'part-[hash]',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  minify: true,
  sourcemap: true,
  sourcesContent: false,
  legalComments: 'none',
  jsx: 'automatic',
  // Ink asks for this optional package at run time; it is never wanted in what ships.
  alias: { 'react-devtools-core': `${root}.config/no-devtools.mjs` },
  define: { 'process.env.NODE_ENV': '"production"' },
  // Some bundled CommonJS asks for node's own modules through require.
  banner: {
    js: "import { createRequire as __createRequire } from 'node:module'; const require = __createRequire(import.meta.url);",
  },
});
await chmod(`${root}dist/cli.js`, 0o755);
