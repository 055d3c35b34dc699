import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { codeOf } from '../journal/error.ts';

/** A survey of two thousand detectors stays below half of a megabyte; a character takes four bytes at most. */
const LARGEST_BYTES = 4_000_000;
const ACCEPTED = 'a text file that can be read, at most 1 MB, or - for standard input';

type TextRead =
  | { readonly ok: true; readonly text: string }
  /** What is so, and what is accepted instead. */
  | { readonly ok: false; readonly says: string; readonly accepts: string };

/**
 * Reads a text that somebody wrote, from a file or, by the name `-`, from standard input. What never ends is left once it is too
 * much, so that a device or a pipe may be given as well as a file.
 */
export function readTextFile(file: string): TextRead {
  const refused = (says: string): TextRead => ({ ok: false, says, accepts: ACCEPTED });
  if (file !== '-' && !existsSync(file)) return refused('There is no such file.');
  try {
    if (file !== '-' && statSync(file).isDirectory()) return refused('This is a folder, not a file.');
    const text = textOf(file);
    return text === null ? refused('This is too large for a survey or a board.') : { ok: true, text };
  } catch (error) {
    return refused(`This file cannot be read (${codeOf(error) || 'no reason is known'}).`);
  }
}

function textOf(file: string): string | null {
  const fd = file === '-' ? 0 : openSync(file, 'r');
  try {
    const pieces: Buffer[] = [];
    let bytes = 0;
    for (;;) {
      const piece = Buffer.alloc(65_536);
      const count = readSome(fd, piece);
      if (count === 0) return Buffer.concat(pieces).toString('utf8');
      pieces.push(piece.subarray(0, count));
      bytes += count;
      if (bytes > LARGEST_BYTES) return null;
    }
  } finally {
    if (fd !== 0) closeSync(fd);
  }
}

// Standard input may be one that answers at once, with nothing yet.
function readSome(fd: number, piece: Buffer): number {
  for (;;) {
    try {
      return readSync(fd, piece);
    } catch (error) {
      if (codeOf(error) === 'EOF') return 0;
      if (codeOf(error) !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
    }
  }
}
