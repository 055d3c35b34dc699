import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type IPty, spawn as spawnInTerminal } from '@lydell/node-pty';
import { build } from 'esbuild';
import type { Bench, Side } from './bench.ts';

// Loaded as it stands: it knows its place in the checkout.
const { BUNDLE, PROGRAM }: typeof import('../../.config/bundle.mjs') = await import(
  pathToFileURL(resolve('.config/bundle.mjs')).href
);

// Started from the checkout; what is measured runs from a folder of its own, as it is installed.
const folder = mkdtempSync(join(tmpdir(), 'loopward-bench-start-'));
process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
symlinkSync(resolve('fixtures'), join(folder, 'fixtures'));
const survey = resolve('fixtures/sailing-club/survey.yaml');
const job = join(folder, 'job');
const env = { PATH: process.env.PATH, HOME: folder, LANG: 'C.UTF-8', TERM: 'xterm-256color' };

await build({ ...PROGRAM, outdir: join(folder, 'dist'), sourcemap: false });
const program = join(folder, 'dist/cli.js');

/** The least that Ink shows, and stays for a key. */
const hello = join(folder, 'hello.mjs');
// Ink asks for this package, which it does not bring, at a debugger's wish alone.
const debuggerStub = join(folder, 'no-debugger.mjs');
writeFileSync(debuggerStub, 'export default {};');
const { banner: _, define, ...plain } = BUNDLE;
await build({
  ...plain,
  format: 'esm',
  stdin: {
    contents: `import { render, Text, useInput } from 'ink';
      function Hello() { useInput(() => {}); return <Text>good morning</Text>; }
      render(<Hello />);`,
    loader: 'jsx',
    resolveDir: resolve('.'),
  },
  outfile: hello,
  define: { 'process.env.NODE_ENV': '"production"', 'process.env.DEV': '"false"' },
  alias: { 'react-devtools-core': debuggerStub },
  banner: {
    js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);",
  },
});

function node(...argv: string[]): () => void {
  return () => {
    const { status, stderr } = spawnSync(process.execPath, argv, { env, cwd: folder, encoding: 'utf8' });
    if (status !== 0) throw new Error(`${argv.join(' ')}: ${stderr}`);
  };
}

const bare: Side = { name: 'node -e ""', run: node('-e', '') };

function command(name: string, most: number, ...argv: string[]): Bench {
  return {
    name,
    target: { ratio: most },
    baseline: bare,
    subject: { name, run: node(program, ...argv) },
  };
}

/**
 * Starts it in a terminal, presses 1 as often as there are words to wait for but one, and ends it on the last.
 * Words are looked for in what came since the word before.
 *
 * @returns what it then holds in memory
 */
async function shown(
  file: string,
  argv: readonly string[],
  words: readonly string[],
  end = (terminal: IPty) => terminal.kill('SIGKILL'),
): Promise<number> {
  const terminal = spawnInTerminal(process.execPath, [file, ...argv], {
    cols: 80,
    rows: 24,
    cwd: folder,
    env: { ...env, CI: 'false' },
  });
  let text = '';
  const waiting = [...words];
  const ended = new Promise<void>((done) => void terminal.onExit(() => done()));
  await new Promise<void>((done, failed) => {
    // What ends by itself shows an error, and is not to be measured.
    void ended.then(() => failed(new Error(`${file} ended before it showed ${waiting[0]}:\n${text}`)));
    terminal.onData((data) => {
      text += data;
      if (!text.includes(waiting[0]!)) return;
      waiting.shift();
      text = '';
      if (waiting.length === 0) done();
      else terminal.write('1');
    });
  });
  const megabytes = residentMegabytes(terminal.pid);
  end(terminal);
  await ended;
  return megabytes;
}

function residentMegabytes(pid: number): number {
  const [, kilobytes] = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
  return Number(kilobytes) / 1024;
}

const stands = 'where the job stands';
/** Shown by the step screen, and not before. */
const onlyThere = 'Installer, qualified';
const step: Side = { name: 'resume', run: () => shown(program, ['resume', job], [stands, onlyThere]) };
const ink: Side = { name: 'a bare Ink hello', run: () => shown(hello, [], ['good morning']) };

// What Node compiled is kept from here on, as on every start but the first.
node(program, 'start', survey, '--board', 'eight-paired', '--job', job)();
node(program, 'act', job, JSON.stringify({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' }))();
await shown(program, ['resume', job], [stands, onlyThere], (terminal) => terminal.write('\x03'));
const action = JSON.stringify({ do: 'note', text: 'Rain from ten', by: 'p1' });

export const benches: readonly Bench[] = [
  command('--help', 2.2, '--help'),
  command('verify', 2.2, 'verify', job),
  command('plan', 3.5, 'plan', survey, '--board', 'eight-paired'),
  command('next', 2.8, 'next', job),
  command('act', 2.8, 'act', job, action),
  { name: "the demo's step screen", target: { ratio: 1.4 }, subject: step, baseline: ink },
  { name: 'memory with it on', unit: 'MB', target: { ratio: 1.4 }, subject: step, baseline: ink },
];
