// One executable file for people without Node: `npm run executable [folder]`. Node's single executable application is a copy
// of the node that runs this, with the bundle and the files that ship inside; it is tried before it is called done.
import { execFileSync } from 'node:child_process';
import { chmod, copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { inject } from 'postject';
import { PROGRAM } from './bundle.mjs';
import { licenceOfNode, licences } from './licences.mjs';

const FUSE = 'NODE_SEA_FUSE_fce680ab2cc467b6e072b8b5df1996b2';
const root = fileURLToPath(new URL('..', import.meta.url));
const folder = resolve(process.argv[2] ?? join(root, 'executable'));
const executable = join(folder, process.platform === 'win32' ? 'loopward.exe' : 'loopward');
const { version, files } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));
const scratch = await mkdtemp(join(tmpdir(), 'loopward-executable-'));
try {
  const shipped = await filesThatShip();
  const main = join(scratch, 'program.js');
  const { outdir: _, ...options } = PROGRAM;
  const { metafile } = await build({
    ...options,
    entryPoints: ['source/cli.ts'],
    outfile: main,
    sourcemap: false,
    banner: { js: `const fileAddress = (${unpacked})(${JSON.stringify(shipped)});` },
  });
  const config = {
    main,
    output: join(scratch, 'blob'),
    disableExperimentalSEAWarning: true,
    useCodeCache: true,
    assets: Object.fromEntries(shipped.map((name) => [name, join(root, name)])),
  };
  await writeFile(join(scratch, 'config.json'), JSON.stringify(config));
  execFileSync(process.execPath, ['--experimental-sea-config', join(scratch, 'config.json')], {
    stdio: 'pipe',
  });
  await mkdir(folder, { recursive: true });
  await copyFile(process.execPath, executable);
  await inject(executable, 'NODE_SEA_BLOB', await readFile(config.output), { sentinelFuse: FUSE });
  await chmod(executable, 0o755);
  await writeFile(join(folder, 'LICENSES'), (await licences(root, metafile)) + (await licenceOfNode()));
  tryOut(join(scratch, 'home'));
} finally {
  await rm(scratch, { recursive: true, force: true });
}

async function filesThatShip() {
  const folders = files.filter((name) => name.startsWith('fixtures/'));
  const names = await Promise.all(
    folders.map(async (name) => (await readdir(join(root, name))).map((file) => `${name}/${file}`)),
  );
  return names.flat();
}

/** Runs inside the executable, before the program: the files that ship are laid down where they can be read by their path. */
function unpacked(names) {
  const fs = require('node:fs');
  const path = require('node:path');
  const { getRawAsset } = require('node:sea');
  const folder = fs.mkdtempSync(path.join(require('node:os').tmpdir(), 'loopward-'));
  process.once('exit', () => fs.rmSync(folder, { recursive: true, force: true }));
  for (const name of names) {
    const file = path.join(folder, name);
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, Buffer.from(getRawAsset(name)));
  }
  return require('node:url').pathToFileURL(path.join(folder, 'dist/program.js')).href;
}

function tryOut(home) {
  const run = (...args) =>
    execFileSync(executable, args, { encoding: 'utf8', env: { HOME: home, TMPDIR: scratch, PATH: '' } });
  if (run('--version').trim() !== version) throw new Error('The executable does not tell its version.');
  const plan = run('plan', join(root, 'fixtures/sailing-club/survey.yaml'), '--board', 'six-paired');
  if (!plan.includes('Harbour sailing club')) throw new Error('The executable does not plan the demo.');
  process.stdout.write(`${executable} starts and plans.\n`);
}
