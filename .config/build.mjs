// One bundled file, so that an installed package needs nothing beside it. Screens, documents and React stand in it as
// functions that are called when a command needs them. `node .config/build.mjs FOLDER` makes it there instead of in `dist`.
import { chmod, mkdir, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { PROGRAM } from './bundle.mjs';
import { licences } from './licences.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = resolve(process.argv[2] ?? join(root, 'dist'));
await rm(dist, { recursive: true, force: true });
await mkdir(dist, { recursive: true });
const { metafile } = await build({ ...PROGRAM, outdir: dist });
// The package is ESM, its bundle is not.
await writeFile(join(dist, 'package.json'), '{ "type": "commonjs" }\n');
await writeFile(join(dist, 'LICENSES'), await licences(root, metafile));
await chmod(join(dist, 'cli.js'), 0o755);
