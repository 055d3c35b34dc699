// How the program is bundled, for everything that bundles it: what ships, the executable, the start-up bench.
import { createHash } from 'node:crypto';
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));

/**
 * Packages that nothing of the program ever calls: conf checks schemas and migrates with them where it is given any, mqtt
 * reaches brokers through web sockets and proxies with them where it is told to. Its logs could show a password.
 */
const NEVER_CALLED = {
  debug: 'module.exports = () => () => {};',
  socks: 'module.exports = {};',
  ws: 'module.exports = class {};',
  ajv: 'export class Ajv2020 {}',
  'ajv-formats': 'export default { default() {} }',
  semver: 'export default {}',
};

/** Tables of all writing, which take longer to load than most commands to run: made when a text first needs them. */
const late = (name, made, call) => ({
  from: `const ${name} = ${made};`,
  to: `let late_${name}; const ${name} = { ${call}: (text) => (late_${name} ??= ${made}).${call}(text) };`,
});

/**
 * Signs that stand by themselves, each one unit long: printable ASCII, escape, Latin-1 without its soft hyphen, dashes, arrows,
 * mathematics, frames and ticks. A text of these alone is cut at each of them, without the tables of all writing.
 */
export const ALONE =
  /^[\x1b\x20-\x7e\xa1-\xac\xae-\xff\u2010-\u2027\u2039\u203a\u2190-\u21ff\u2260-\u22ff\u2500-\u25ff\u2713\u2717\u03a9\u2212]*$/;

const lateSegmenter = (name, made) => ({
  from: `const ${name} = ${made};`,
  to: `let late_${name}; const ${name} = {
    segment: (text) => ${ALONE}.test(text)
      ? Array.from(text, (segment, index) => ({ segment, index }))
      : (late_${name} ??= ${made}).segment(text),
  };`,
});

/**
 * What packages do as soon as they are loaded, done later or at once. Ink and its layout wait at their top level: for a
 * debugger that is never wanted in what ships, and for WebAssembly that can be made ready at once. Without these waits
 * everything is evaluated only when it is called for, in one file. Each must be found, or the build fails.
 */
const CHANGES = [
  { file: /\/string-width\/index\.js$/, ...lateSegmenter('segmenter', 'new Intl.Segmenter()') },
  {
    file: /\/ansi-tokenize\/build\/tokenize\.js$/,
    ...lateSegmenter('segmenter', 'new Intl.Segmenter(undefined, { granularity: "grapheme" })'),
  },
  {
    file: /\/slice-ansi\/tokenize-ansi\.js$/,
    ...late('GRAPHEME_SEGMENTER', "new Intl.Segmenter(undefined, {granularity: 'grapheme'})", 'segment'),
  },
  {
    // Of single units of text just these are such signs, and their table is short; the one of all sequences is wanted rarely.
    file: /^(?!.*wrap-ansi).*\/string-width\/index\.js$/,
    from: 'const rgiEmojiRegex = /^\\p{RGI_Emoji}$/v;',
    to: `let sequences; const units = /^\\p{Emoji_Presentation}$/v;
      const rgiEmojiRegex = { test: (text) => (text.length === 1 ? units : (sequences ??= /^\\p{RGI_Emoji}$/v)).test(text) };`,
  },
  {
    file: /^(?!.*wrap-ansi).*\/string-width\/index\.js$/,
    ...late('spacingMarkRegex', '/\\p{Spacing_Mark}/v', 'test'),
  },
  {
    file: /^(?!.*wrap-ansi).*\/string-width\/index\.js$/,
    from: 'const visibleCharacterRegex = /',
    to: `let visible; const visibleCharacterRegex = {
      test: (text) => visibleCharacters().test(text),
      [Symbol.search]: (text) => text.search(visibleCharacters()),
    };
    const visibleCharacters = () => visible ??= /`,
  },
  {
    // It starts programs, which ours are not.
    file: /\/commander\/lib\/command\.js$/,
    from: "const childProcess = require('node:child_process');",
    to: 'const childProcess = null;',
  },
  {
    // It asks other programs for the size where there is no terminal; ours then opens no screen.
    file: /\/terminal-size\/index\.js$/,
    from: "import {execFileSync} from 'node:child_process';",
    to: "const execFileSync = (...given) => require('node:child_process').execFileSync(...given);",
  },
  {
    // Only ever asked whether Ink gave it a function.
    file: /\/signal-exit\/index\.js$/,
    from: "var assert = require('assert')",
    to: 'var assert = { equal() {} }',
  },
  { file: /\/ink\/build\/reconciler\.js$/, from: "await import('./devtools.js');", to: '' },
  { file: /\/ink\/build\/reconciler\.js$/, from: 'await loadPackageJson()', to: '{}' },
  {
    file: /\/yoga-layout\/dist\/src\/index\.js$/,
    from: 'const Yoga = wrapAssembly(await loadYoga());',
    to: 'const assembly = {}; loadYoga(assembly); const Yoga = wrapAssembly(assembly);',
  },
  {
    file: /\/yoga-wasm-base64-esm\.js$/,
    from: 'if(h.instantiateWasm)',
    to: `h.instantiateWasm = (imports, ready) => {
      const bytes = Buffer.from(H.slice(H.indexOf(',') + 1), 'base64');
      const instance = new WebAssembly.Instance(new WebAssembly.Module(bytes), imports);
      ready(instance);
      return instance.exports;
    };
    if(h.instantiateWasm)`,
  },
];

/** The packages as they ship, for all that bundles them. */
export const changes = {
  name: 'changes',
  setup({ onLoad, onResolve }) {
    onResolve({ filter: /^(ajv|ajv-formats|debug|semver|socks|ws)(\/|$)/ }, ({ path }) => ({
      path: path.split('/')[0],
      namespace: 'never-called',
    }));
    onLoad({ filter: /.*/, namespace: 'never-called' }, ({ path }) => ({ contents: NEVER_CALLED[path] }));
    // One sign beyond ASCII, which only a regular expression keeps, and the engine holds the whole file twice as wide.
    onLoad({ filter: /\/source\/.*\.ts$/ }, async ({ path }) => {
      const contents = await readFile(path, 'utf8');
      return { contents: contents.replaceAll(/[^\0-\x7f]/g, escaped), loader: 'ts' };
    });
    onLoad(
      {
        filter:
          /\/node_modules\/(commander|ink|yoga-layout|string-width|slice-ansi|@alcalzone|terminal-size|signal-exit)\//,
      },
      async ({ path }) => {
        const wanted = CHANGES.filter(({ file }) => file.test(path));
        if (wanted.length === 0) return null;
        let contents = await readFile(path, 'utf8');
        for (const { from, to } of wanted) {
          if (!contents.includes(from)) throw new Error(`${path} no longer holds: ${from}`);
          contents = contents.replace(from, () => to);
        }
        return { contents };
      },
    );
  },
};

/** Kept code is compiled from a function as it stands: to put its head before the program then, takes copying all of it. */
const FUNCTION = '(function (exports, require, module, __filename, __dirname) {';

/**
 * Makes the program a function, for what starts it to call, and tells that which program it is: so that the code kept of
 * another is not taken for its own. An executable keeps none, and is told nothing.
 */
const digest = {
  name: 'digest',
  setup({ initialOptions: { absWorkingDir, outdir }, onEnd }) {
    onEnd(async ({ errors }) => {
      if (errors.length > 0 || outdir === undefined) return;
      const files = ['program.js', 'cli.js'].map((name) => join(resolve(absWorkingDir, outdir), name));
      const [program, starts] = await Promise.all(files.map((file) => readFile(file, 'utf8')));
      const sum = createHash('sha256').update(program).digest('hex');
      // Its first line holds what the bundler puts before everything, so that its source map stays true.
      const called = FUNCTION + program.replace(/(\n\/\/# sourceMappingURL=.*)?\n?$/, '\n})$1\n');
      const [file, starter] = files;
      if (!starts.includes('PROGRAM_DIGEST')) throw new Error(`${starter} no longer asks for the digest`);
      await writeFile(file, called);
      await writeFile(
        starter,
        starts.replaceAll('PROGRAM_DIGEST', () => JSON.stringify(sum)),
      );
    });
  },
};

/**
 * No `import()` may be left in what ships: the program is evaluated as one text, in which there is no loader for it, so that
 * it would fail on the day it is reached. Modules of Node come by `process.getBuiltinModule`, everything else is bundled.
 */
const noLoader = {
  name: 'no-loader',
  setup({ onEnd }) {
    onEnd(({ errors, metafile }) => {
      if (errors.length > 0) return null;
      const left = Object.values(metafile.outputs).flatMap(({ imports }) =>
        imports.filter(({ kind }) => kind === 'dynamic-import').map(({ path }) => path),
      );
      const text = `import(${left.join('), import(')}) is left in the bundle, where nothing loads it: take process.getBuiltinModule`;
      return left.length === 0 ? null : { errors: [{ text }] };
    });
  },
};

/** A unit of a text as JavaScript writes it. */
const escaped = (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;

/** What every bundle has in common: CommonJS, so that the same file starts as a program and as an executable. */
export const BUNDLE = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  target: 'node20',
  // Node 20 reads them as they stand; rewritten, they are compiled before they are needed.
  supported: { 'regexp-set-notation': true, 'regexp-unicode-property-escapes': true },
  format: 'cjs',
  minify: true,
  legalComments: 'none',
  jsx: 'automatic',
  define: { 'process.env.NODE_ENV': '"production"', 'import.meta.url': 'fileAddress' },
  banner: { js: "const fileAddress = require('node:url').pathToFileURL(__filename).href;" },
};

/** The program itself, and what starts it. */
export const PROGRAM = {
  ...BUNDLE,
  entryPoints: { program: 'source/cli.ts', cli: 'source/kept-code.ts' },
  outdir: 'dist',
  sourcemap: true,
  sourcesContent: false,
  metafile: true,
  // Of the two servers of React DOM one is used.
  alias: {
    'react-dom/server': `${root}node_modules/react-dom/cjs/react-dom-server-legacy.node.production.js`,
  },
  plugins: [changes, noLoader, digest],
};
