// One bundled file, so that an installed package needs nothing beside it. Screens, documents and React stand in it as
// functions that are called when a command needs them.
import { chmod, mkdir, rm, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { PROGRAM } from './bundle.mjs';
import { licences } from './licences.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
await rm(`${root}dist`, { recursive: true, force: true });
await mkdir(`${root}dist`);
const { metafile } = await build(PROGRAM);
// The package is ESM, its bundle is not.
await writeFile(`${root}dist/package.json`, '{ "type": "commonjs" }\n');
await writeFile(`${root}dist/LICENSES`, await licences(root, metafile));
await chmod(`${root}dist/cli.js`, 0o755);
