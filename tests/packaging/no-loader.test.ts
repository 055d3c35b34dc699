import { build } from 'esbuild';
import { expect, test } from 'vitest';
import { PROGRAM } from '../../.config/bundle.mjs';

/** A program of one line, bundled as the program is. */
function bundle(text: string) {
  const { outdir: _, entryPoints: __, ...shipped } = PROGRAM;
  const stdin = { contents: text, resolveDir: import.meta.dirname };
  return build({ ...shipped, stdin, outfile: 'one.js', write: false, sourcemap: false, logLevel: 'silent' });
}

// What ships is evaluated as one text, in which nothing loads a module on the way.
test('the build fails on an import that waits for a loader', async () => {
  await expect(bundle(`await_(); async function await_() { await import('node:os'); }`)).rejects.toThrow(
    'import(node:os) is left in the bundle',
  );
  await expect(bundle(`process.getBuiltinModule('node:os')`)).resolves.toBeDefined();
});
