#!/usr/bin/env node
import { createHash, randomUUID } from 'node:crypto';
import {
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { cachedDataVersionTag, setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';
import { cacheFolder, surroundings } from './folders.ts';

// The program is one file of a million and a half characters, and reading through it takes Node longer than most commands
// take to do. So what Node compiled is kept in the person's cache folder and taken up again. Where it cannot be kept, or is
// not the code of just this file and this Node, the program starts without. `module.enableCompileCache` of Node 22.1 does
// as much: once Node 20 is left behind, it takes this file's place.

/** SHA-256 of the program as it was bundled, in hex: put here by the build. To make it anew takes longer than it is worth. */
declare const PROGRAM_DIGEST: string;

const PROGRAM = join(__dirname, 'program.js');
const OPEN = '(function (exports, require, module, __filename, __dirname) {';
const DIGEST_BYTES = 32;
/** Of each command, version of the program and Node one, so many in all: a megabyte each. */
const MOST_KEPT = 12;

// Short commands end before code that was optimised pays for the optimising: it is done for what runs seven times as long.
// The engine of Node 20 alone has this switch.
if (process.versions.v8.startsWith('11.')) setFlagsFromString('--interrupt-budget=1000000');
// What a command makes it makes once and needs to its end: room for it grows at once, not by being gone through each time.
setFlagsFromString('--semi-space-growth-factor=16');
start();

function start(): void {
  // ASCII, as it is bundled: so the engine holds a byte a character.
  const text = readFileSync(PROGRAM, 'latin1');
  const command = /^[a-z-]+$/.exec(process.argv[2] ?? '')?.[0] ?? '';
  const tag = [PROGRAM_DIGEST.slice(0, 24), process.version, cachedDataVersionTag(), command.slice(0, 20)];
  const folder = cacheFolder(surroundings());
  const file = join(folder, `${tag.join('-')}.code`);
  const kept = process.env.NODE_DISABLE_COMPILE_CACHE ? undefined : readKept(folder, file);
  const script = new Script(`${OPEN}${text}\n})`, {
    filename: PROGRAM,
    columnOffset: -OPEN.length,
    ...(kept ? { cachedData: kept } : {}),
  });
  if (!process.env.NODE_DISABLE_COMPILE_CACHE && (!kept || script.cachedDataRejected)) {
    process.once('exit', () => keep(folder, file, script.createCachedData()));
  }
  script.runInThisContext()(exports, require, module, PROGRAM, __dirname);
}

/** What was kept, where it is whole and nobody else can have written it: the engine runs it unread. */
function readKept(folder: string, file: string): Buffer | undefined {
  try {
    if (!isOurs(folder)) return undefined;
    const bytes = readFileSync(file);
    const code = bytes.subarray(DIGEST_BYTES);
    return bytes.subarray(0, DIGEST_BYTES).equals(digestOf(code)) ? code : undefined;
  } catch {
    return undefined;
  }
}

function keep(folder: string, file: string, code: Buffer): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    if (!isOurs(folder)) return;
    const whole = `${file}.${randomUUID()}`;
    writeFileSync(whole, Buffer.concat([digestOf(code), code]), { mode: 0o600, flag: 'wx' });
    renameSync(whole, file);
    for (const old of outdated(folder)) unlinkSync(old);
  } catch {
    // Another start is as slow as this one was; nothing else is lost.
  }
}

function isOurs(folder: string): boolean {
  const { uid, mode } = lstatSync(folder);
  return process.getuid === undefined || (uid === process.getuid() && (mode & 0o022) === 0);
}

function outdated(folder: string): string[] {
  const files = readdirSync(folder).map((name) => join(folder, name));
  const age = new Map(files.map((file) => [file, statSync(file).mtimeMs]));
  return files.sort((a, b) => age.get(b)! - age.get(a)!).slice(MOST_KEPT);
}

function digestOf(code: Buffer): Buffer {
  return createHash('sha256').update(code).digest();
}
