import { writeSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { realSystem } from '../journal/system.ts';
import type { Context } from './command.ts';

/** The real outside. */
export function processContext(): Context {
  return {
    out: (line) => writeWhole(1, `${line}\n`),
    err: (line) => writeWhole(2, `${line}\n`),
    lines: () => createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY }),
    terminal: process.stdin.isTTY === true && process.stdout.isTTY === true,
    columns: process.stdout.columns || 80,
    env: process.env,
    system: realSystem(),
  };
}

// Written at once, so that what was answered is out before the next action is done, whoever reads it.
function writeWhole(to: 1 | 2, text: string): void {
  let rest = Buffer.from(text);
  while (rest.length > 0) {
    try {
      rest = rest.subarray(writeSync(to, rest));
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code === 'EPIPE') return;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
    }
  }
}
