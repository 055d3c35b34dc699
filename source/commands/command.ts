import type { System } from '../journal/system.ts';
import type { ExitCode } from './exit.ts';

/** What a command may touch of the outside. Tests hand in their own; `cli.ts` hands in the process. */
export type Context = {
  /** Writes one line to standard output. */
  out(line: string): void;
  /** Writes one line to standard error. */
  err(line: string): void;
  /** Writes a line that this program drew, with its colours: nothing of it comes from a file or a person. */
  drawing(line: string): void;
  /** Standard input, line by line. */
  lines(): AsyncIterable<string>;
  /** Standard input and standard output are both a terminal: screens may be opened. */
  readonly terminal: boolean;
  /** Columns of standard output, 80 where nobody knows. */
  readonly columns: number;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly system: System;
};

/** What the person gave: arguments by place, options by the name they have on the command line. */
export type Given = {
  /** Arguments as typed; an optional one that was left out is `''`. */
  readonly arguments: readonly string[];
  /** `--json`: nothing but JSON reaches standard output. */
  readonly json: boolean;
  /** `given.text('hold-up')` is the value of `--hold-up`, or undefined. */
  text(option: string): string | undefined;
  /** Every value of an option that may be repeated, in order. */
  all(option: string): readonly string[];
  has(option: string): boolean;
};

/** What a command does; it answers with the exit code, or throws an `Ending`. */
export type Run = (given: Given, context: Context) => ExitCode | Promise<ExitCode>;

/** An option as commander writes it, `--out <dir>`; `many`: it may be repeated. */
export type Option = { readonly flags: string; readonly says: string; readonly many?: true };

/**
 * A command as data: help, completion and manual page are made from it. The file behind it is loaded when it
 * is called for, so that no command pays for another.
 */
export type Command = {
  readonly name: string;
  readonly summary: string;
  /** Arguments as commander writes them: `<job>`, `[action]`. */
  readonly arguments: readonly { readonly flags: string; readonly says: string }[];
  readonly options: readonly Option[];
  readonly example: string;
  readonly load: () => Promise<{ readonly run: Run }>;
};
