#!/usr/bin/env node
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { cachedDataVersionTag, setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';
import { cacheFolder, surroundings } from './folders.ts';
import { keep, readKept } from './kept-file.ts';

// The program is one file of a million and a half characters, and reading through it takes Node longer than most commands
// take to do. So what Node compiled is kept in the person's cache folder and taken up again. Where it cannot be kept, or is
// not the code of just this file and this Node, the program starts without. `module.enableCompileCache` of Node 22.1 does
// as much: once Node 20 is left behind, it takes this file's place.

/** SHA-256 of the program as it was bundled, in hex: put here by the build. To make it anew takes longer than it is worth. */
declare const PROGRAM_DIGEST: string;

const PROGRAM = join(__dirname, 'program.js');
/** Of each command, version of the program and Node one, so many in all: a megabyte each. */
const MOST_KEPT = 12;

// Short commands end before code that was optimised pays for the optimising: it is done for what runs seven times as long.
// The engine of Node 20 alone has this switch.
if (process.versions.v8.startsWith('11.')) setFlagsFromString('--interrupt-budget=1000000');
const command = /^[a-z-]+$/.exec(process.argv[2] ?? '')?.[0] ?? '';
start();

function start(): void {
  // ASCII, as it is bundled: so the engine holds a byte a character.
  const text = readFileSync(PROGRAM, 'latin1');
  const tag = [PROGRAM_DIGEST.slice(0, 24), process.version, cachedDataVersionTag(), command.slice(0, 20)];
  const folder = cacheFolder(surroundings());
  const file = `${tag.join('-')}.code`;
  const kept = process.env.NODE_DISABLE_COMPILE_CACHE ? undefined : readKept(folder, file);
  const script = new Script(text, { filename: PROGRAM, ...(kept ? { cachedData: kept } : {}) });
  if (!process.env.NODE_DISABLE_COMPILE_CACHE && (!kept || script.cachedDataRejected)) {
    process.once('exit', () => keep(folder, file, script.createCachedData(), MOST_KEPT));
  }
  script.runInThisContext()(exports, require, module, PROGRAM, __dirname);
}
