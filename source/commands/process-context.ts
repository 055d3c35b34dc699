import { fstatSync, writeSync } from 'node:fs';
import { realSystem } from '../journal/system.ts';
import type { Context } from './command.ts';

/** The real outside. */
export function processContext(): Context {
  return {
    out: (line) => writeWhole(1, `${line}\n`),
    drawing: (line) => writeWhole(1, `${line}\n`),
    err: (line) => writeWhole(2, `${line}\n`),
    lines,
    // Answered when asked: to make a stream of each takes Node as long as a short command runs.
    get terminal() {
      return isTerminal(0) && isTerminal(1);
    },
    get columns() {
      return (isTerminal(1) && process.stdout.columns) || 80;
    },
    env: process.env,
    system: realSystem(),
  };
}

function isTerminal(fd: 0 | 1): boolean {
  try {
    // What is no character device is no terminal, and need not be asked with what Node loads slowly.
    if (!fstatSync(fd).isCharacterDevice()) return false;
    return process.getBuiltinModule('node:tty').isatty(fd);
  } catch {
    return false;
  }
}

async function* lines(): AsyncIterable<string> {
  // Not `import()`: what is evaluated as one text has no loader for it.
  const { createInterface } = process.getBuiltinModule('node:readline');
  const reader = createInterface({ input: process.stdin, crlfDelay: Number.POSITIVE_INFINITY });
  try {
    yield* reader;
  } finally {
    // Whoever leaves before the lines end: standard input would keep the program waiting for one more.
    reader.close();
  }
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
