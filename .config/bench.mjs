// Speed beside a baseline, in the same run: `npm run bench`, `npm run bench -- electrical --json out.json`. `--keep` adds
// what was measured to tests/bench/results.json under the commit in hand; `--kept` only prints what stands there.
// Loads tests/bench/*.bench.ts, each exporting `benches` (their shape: tests/bench/bench.ts), lets subject and
// baseline take turns so that a busy machine slows both, and compares the medians with the target.
import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';
import { changes } from './bundle.mjs';

// Production React, as shipped: the packages stay outside the bundles and look for it here.
process.env.NODE_ENV = 'production';

const ROUNDS = 15;
/** A round repeats what is measured until this much time has passed, so that the clock's grain does not count. */
const ROUND_MILLISECONDS = 20;
/** So that the compiler, which works beside us, is done with what is measured. */
const WARM_UP_MILLISECONDS = 300;

const root = fileURLToPath(new URL('..', import.meta.url));
const { devDependencies } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));
const { values, positionals } = parseArgs({
  options: { json: { type: 'string' }, keep: { type: 'boolean' }, kept: { type: 'boolean' } },
  allowPositionals: true,
});
const keptFile = join(root, 'tests/bench/results.json');
const rounded = (_, value) => (typeof value === 'number' ? Number(value.toPrecision(4)) : value);
if (values.kept) console.table((await latest()).map(row));
else await measureAll();

async function measureAll() {
  const files = (await readdir(join(root, 'tests/bench')))
    .filter((name) => name.endsWith('.bench.ts'))
    .filter((name) => positionals.length === 0 || positionals.some((wanted) => name.startsWith(wanted)))
    .sort();

  // Beside the packages, so that what stays outside the bundle is found.
  const cache = join(root, 'node_modules/.cache');
  await mkdir(cache, { recursive: true });
  const folder = await mkdtemp(join(cache, 'bench-'));
  try {
    await build({
      absWorkingDir: root,
      entryPoints: files.map((name) => `tests/bench/${name}`),
      outdir: folder,
      bundle: true,
      platform: 'node',
      target: 'node20',
      format: 'esm',
      // Ink and what it draws with as they ship, on both sides alike; the rest stays outside.
      external: [
        ...Object.keys(devDependencies).filter((name) => !/^(ink|string-width)/.test(name)),
        'react-reconciler',
      ],
      plugins: [changes],
      outExtension: { '.js': '.mjs' },
      jsx: 'automatic',
      define: { 'process.env.NODE_ENV': '"production"' },
      banner: {
        js: "import * as nodeModule from 'node:module'; const require = nodeModule.createRequire(import.meta.url);",
      },
    });
    const results = [];
    for (const name of files) {
      const module = await import(pathToFileURL(join(folder, name.replace(/\.ts$/, '.mjs'))).href);
      for (const bench of module.benches) results.push(await measured(name.replace('.bench.ts', ''), bench));
    }
    console.table(results.map(row));
    if (values.keep) await keep(results);
    if (values.json) {
      await writeFile(resolve(values.json), `${JSON.stringify({ rounds: ROUNDS, results }, null, 2)}\n`);
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Adds what was measured to what is kept, in place of what this commit had measured of it before. */
async function keep(results) {
  const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], {
    cwd: root,
    encoding: 'utf8',
  }).trim();
  const rooms = new Set(results.map(({ file }) => file));
  const before = (await kept()).map((run) =>
    run.commit === commit ? { ...run, results: run.results.filter(({ file }) => !rooms.has(file)) } : run,
  );
  const run = { commit, node: process.version, at: new Date().toISOString().slice(0, 10), results };
  const runs = [...before.filter((one) => one.results.length > 0), run];
  await writeFile(keptFile, `${JSON.stringify(runs, rounded, 2)}\n`);
}

async function kept() {
  return JSON.parse(await readFile(keptFile, 'utf8').catch(() => '[]'));
}

/** Of each room what was kept last. */
async function latest() {
  const rooms = new Map();
  for (const { commit, results } of await kept())
    for (const room of new Set(results.map(({ file }) => file)))
      rooms.set(
        room,
        results.filter(({ file }) => file === room).map((one) => ({ ...one, commit })),
      );
  return [...rooms.values()].flat();
}

async function measured(file, { name, unit = 'ms', target, baseline, subject }) {
  const sides = baseline === null ? [subject] : [subject, baseline];
  const repeats = [];
  for (const { run } of sides) repeats.push(unit === 'ms' ? await repeatsFor(run) : 1);
  const taken = sides.map(() => []);
  for (let round = 0; round < ROUNDS; round++) {
    // Who goes first changes, so that neither always finds the caches warm.
    const order = round % 2 === 0 ? [0, 1] : [1, 0];
    for (const side of order.filter((at) => at < sides.length)) {
      const { run } = sides[side];
      taken[side].push(unit === 'ms' ? await timeOf(run, repeats[side]) : await run());
    }
  }
  const [value, baselineValue = null] = taken.map(median);
  const ratio = baselineValue === null ? null : value / baselineValue;
  const met =
    (target.milliseconds === undefined || value <= target.milliseconds) &&
    (target.ratio === undefined || (ratio !== null && ratio <= target.ratio));
  const against = baseline === null ? null : baseline.name;
  return {
    file,
    name,
    subject: subject.name,
    unit,
    value,
    baseline: against,
    baselineValue,
    ratio,
    target,
    met,
  };
}

async function repeatsFor(run) {
  const warm = performance.now() + WARM_UP_MILLISECONDS;
  while (performance.now() < warm) await timeOf(run, 1);
  let repeats = 1;
  for (;;) {
    const one = await timeOf(run, repeats);
    if (one * repeats >= ROUND_MILLISECONDS) return repeats;
    repeats = Math.max(repeats * 2, Math.ceil(ROUND_MILLISECONDS / Math.max(one, 1e-6) / 2));
  }
}

async function timeOf(run, repeats) {
  const start = performance.now();
  for (let at = 0; at < repeats; at++) {
    const pending = run();
    if (pending instanceof Promise) await pending;
  }
  return (performance.now() - start) / repeats;
}

function median(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

function row({ file, commit, name, unit, value, baseline, baselineValue, ratio, target, met }) {
  return {
    room: file,
    ...(commit ? { commit } : {}),
    what: name,
    takes: figure(value, unit),
    beside: baseline === null ? '' : `${baseline} ${figure(baselineValue, unit)}`,
    ratio: ratio === null ? '' : Number(ratio.toPrecision(3)),
    target: [
      target.milliseconds === undefined ? [] : [`below ${figure(target.milliseconds, 'ms')}`],
      target.ratio === undefined ? [] : [`ratio below ${target.ratio}`],
    ]
      .flat()
      .join(', '),
    met: met ? 'yes' : 'missed',
  };
}

function figure(value, unit) {
  return unit === 'ms' ? time(value) : `${value.toPrecision(3)} ${unit}`;
}

function time(milliseconds) {
  if (milliseconds >= 1000) return `${(milliseconds / 1000).toPrecision(3)} s`;
  return milliseconds >= 1
    ? `${milliseconds.toPrecision(3)} ms`
    : `${(milliseconds * 1000).toPrecision(3)} µs`;
}
