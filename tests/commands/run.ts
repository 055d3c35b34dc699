import type { Context } from '../../source/commands/command.ts';
import { runProgram } from '../../source/commands/program.ts';
import { realSystem, type System } from '../../source/journal/system.ts';

export type Ran = {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Standard output as JSON; undefined where it is none. */
  readonly json: unknown;
};

/** One command line, in this process. */
export async function run(
  argv: readonly string[],
  options: {
    readonly input?: string;
    readonly env?: Record<string, string>;
    readonly system?: System;
    readonly terminal?: boolean;
  } = {},
): Promise<Ran> {
  const out: string[] = [];
  const err: string[] = [];
  const context: Context = {
    out: (line) => out.push(line),
    err: (line) => err.push(line),
    drawing: (line) => out.push(line),
    lines: async function* () {
      yield* (options.input ?? '').split('\n');
    },
    terminal: options.terminal ?? false,
    columns: 80,
    env: options.env ?? {},
    system: options.system ?? realSystem(),
  };
  const code = await runProgram(argv, context);
  const text = out.join('\n');
  return { code, out: text, err: err.join('\n'), json: parsed(text) };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
