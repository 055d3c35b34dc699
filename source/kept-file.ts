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
import { extname, join } from 'node:path';

const DIGEST_BYTES = 32;

/** What was kept under a name, where it is whole and nobody else can have written it; undefined otherwise. */
export function readKept(folder: string, name: string): Buffer | undefined {
  try {
    if (!isOurs(folder)) return undefined;
    const bytes = readFileSync(join(folder, name));
    const kept = bytes.subarray(DIGEST_BYTES);
    return bytes.subarray(0, DIGEST_BYTES).equals(digestOf(kept)) ? kept : undefined;
  } catch {
    return undefined;
  }
}

/**
 * Keeps what can be made anew, so that another start need not. Where it cannot be kept, nothing else is lost.
 *
 * @param most so many of one kind, by the ending of their names, stay in the folder: the latest
 */
export function keep(folder: string, name: string, bytes: Uint8Array, most: number): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    if (!isOurs(folder)) return;
    const whole = join(folder, `${name}.${randomUUID()}`);
    writeFileSync(whole, Buffer.concat([digestOf(bytes), bytes]), { mode: 0o600, flag: 'wx' });
    renameSync(whole, join(folder, name));
    for (const old of outdated(folder, extname(name), most)) unlinkSync(old);
  } catch {
    // Another start is as slow as this one was.
  }
}

function isOurs(folder: string): boolean {
  const { uid, mode } = lstatSync(folder);
  return process.getuid === undefined || (uid === process.getuid() && (mode & 0o022) === 0);
}

function outdated(folder: string, ending: string, most: number): string[] {
  const files = readdirSync(folder)
    // Also what a start left half written, which goes by a longer name.
    .filter((name) => name.includes(ending))
    .map((name) => join(folder, name));
  const age = new Map(files.map((file) => [file, statSync(file).mtimeMs]));
  return files.sort((a, b) => age.get(b)! - age.get(a)!).slice(most);
}

function digestOf(bytes: Uint8Array): Buffer {
  return createHash('sha256').update(bytes).digest();
}
