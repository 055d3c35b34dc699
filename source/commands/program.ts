import { Command as Commander, CommanderError } from 'commander';
import { VERSION } from '../job/version.ts';
import { asciiText } from '../screens/draw/glyphs.ts';
import { isAsciiLocale, shownRow, shownText, textFor } from '../screens/terminal/shown-text.ts';
import type { Command, Context, Given } from './command.ts';
import { outsideSays } from './conditions.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { journalEnding } from './journal-ending.ts';
import { nearest } from './nearest.ts';
import { rootHelp } from './root-help.ts';
import { BARE, COMMANDS } from './table.ts';

/** Options that name a folder. */
const FOLDERS = new Set(['out', 'job', 'jobs']);

/**
 * Runs one command line and says how it ended. Nothing here ends the process.
 *
 * @param given what follows the program's name
 */
export async function runProgram(given: readonly string[], outside: Context): Promise<ExitCode> {
  const argv = helpAsked(given);
  const context = toTerminal(outside, argv);
  let code: ExitCode = EXIT.done;
  const program = describe(new Commander('loopward'), context)
    .description('Leads the changeover of an old hard-wired intruder-alarm panel to a 12 V DC input board.')
    .version(VERSION, '-V, --version', 'the version')
    .helpOption('-h, --help', 'this help, or that of one command')
    .helpCommand(false);
  // What stands first is the name of a command: where it is none, that is told, whatever follows.
  program.allowExcessArguments(true);
  equip(program, BARE, async (given, loaded) => {
    const stray = given.arguments[0];
    if (stray) {
      throw noCommand(stray);
    }
    code = await (await loaded()).run(given, context);
  });
  // What is not named on the line is not asked for either: to describe all of them takes as long as some take to run.
  for (const command of COMMANDS.filter(({ name }) => argv.includes(name))) {
    const one = describe(program.command(command.name), context)
      .summary(command.summary)
      .description(command.summary)
      .addHelpText('after', `\nExample:\n  $ ${command.example}`);
    equip(one, command, async (given, loaded) => {
      code = await (await loaded()).run(given, context);
    });
  }
  // Set last, for commands take over what they find set.
  program.configureHelp({ formatHelp: () => rootHelp() });
  try {
    await program.parseAsync([...argv], { from: 'user' });
  } catch (error) {
    return ended(error, context, argv);
  }
  return code;
}

/** Everything that a command says passes here, whoever wrote it. */
function toTerminal(outside: Context, argv: readonly string[]): Context {
  const isCsv = argv.includes('--csv');
  const out = isCsv ? shownText : textFor(outside.env, argv.includes('--json') || argv.includes('-'));
  const toErr = textFor(outside.env, false);
  const split = argv.filter((given) => given.includes('\n'));
  // What was given on the line is told in one line, whatever is in it.
  const err = (text: string) =>
    toErr(split.reduce((said, given) => said.replaceAll(given, shownRow(given)), text));
  // What the outside answers is asked when it is wanted, not now.
  return Object.assign(Object.create(outside) as Context, {
    out: (line: string) => outside.out(out(line)),
    err: (line: string) => outside.err(err(line)),
    drawing: (line: string) => outside.drawing(isAsciiLocale(outside.env) ? asciiText(line) : line),
  });
}

/** `help` and `help COMMAND` are what many type first. */
function helpAsked(argv: readonly string[]): readonly string[] {
  if (argv[0] !== 'help') return argv;
  const [, command] = argv;
  if (command === undefined || command.startsWith('-')) return ['--help'];
  return COMMANDS.some(({ name }) => name === command) ? [command, '--help'] : [command];
}

function noCommand(typed: string): Ending {
  const meant = nearest(
    typed,
    COMMANDS.map(({ name }) => name),
  );
  const hint =
    meant === null
      ? 'loopward --help lists what there is.'
      : `Did you mean ${meant}? loopward --help lists all.`;
  return new Ending('usage', `There is no command ${typed}. ${hint}`);
}

type Ended = { readonly code: ExitCode; readonly says: string };

// Whoever asked for JSON gets it of what went wrong as well, on standard error: the same sentence and the exit code.
function ended(thrown: unknown, context: Context, argv: readonly string[]): ExitCode {
  const end = endOf(thrown);
  if (end.says === '') return end.code;
  if (argv.includes('--json')) context.err(JSON.stringify({ format: 'loopward/error@1', ...end }));
  else {
    const command = COMMANDS.find(({ name }) => argv.includes(name));
    const hint = `\nloopward ${command === undefined ? '' : `${command.name} `}--help says more.`;
    context.err(`${end.says}${thrown instanceof CommanderError ? hint : ''}`);
  }
  if (end.code === EXIT.defect && context.env.LOOPWARD_TRACE && thrown instanceof Error && thrown.stack)
    context.err(thrown.stack);
  return end.code;
}

function endOf(thrown: unknown): Ended {
  const error = journalEnding(thrown);
  if (error instanceof CommanderError) {
    if (error.exitCode === 0) return { code: EXIT.done, says: '' };
    return { code: EXIT.usage, says: capital(error.message.replace(/^error: /, '')) };
  }
  if (error instanceof Ending) return { code: error.code, says: error.message };
  const outside = outsideSays(error);
  if (outside !== null) return { code: EXIT.refused, says: outside };
  const says = error instanceof Error ? error.message : String(error);
  return {
    code: EXIT.defect,
    says: `loopward met a defect of its own: ${says.split('\n')[0]}. Nothing confirmed is lost.`,
  };
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function describe(command: Commander, context: Context): Commander {
  return command.exitOverride().configureOutput({
    writeOut: (text) => context.out(text.replace(/\n$/, '')),
    writeErr: (text) => context.err(text.replace(/\n$/, '')),
    // Told where the command ends, by whichever way was asked for.
    outputError: () => undefined,
    getOutHelpWidth: () => context.columns,
    getErrHelpWidth: () => context.columns,
  });
}

type Act = (given: Given, load: Command['load']) => Promise<void>;

function equip(on: Commander, command: Omit<Command, 'name' | 'summary' | 'example'>, act: Act): void {
  for (const { flags, says } of command.arguments) on.argument(flags, says);
  for (const option of command.options) {
    if (option.many)
      on.option(option.flags, option.says, (value, before: string[]) => [...before, value], []);
    else on.option(option.flags, option.says);
  }
  on.action(async () => act(givenFrom(on), command.load));
}

function givenFrom(on: Commander): Given {
  // Options given before the command count for it too: `loopward --json plan` is what people type.
  const options: Record<string, unknown> = on.optsWithGlobals();
  const value = (option: string): unknown =>
    options[option.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase())];
  return {
    arguments: on.processedArgs.flatMap((argument) =>
      Array.isArray(argument) ? argument.map(String) : [typeof argument === 'string' ? argument : ''],
    ),
    json: value('json') === true,
    text: (option) => {
      const given = value(option);
      // As a path it would mean where one happens to stand.
      if (given === '' && FOLDERS.has(option))
        throw new Ending('usage', `No folder is given with --${option}. Give one.`);
      if (given === '') throw new Ending('usage', `--${option} is empty. Give it a value, or leave it out.`);
      return typeof given === 'string' ? given : undefined;
    },
    all: (option) => {
      const given = value(option);
      return Array.isArray(given) ? given.filter((one) => typeof one === 'string') : [];
    },
    has: (option) => value(option) !== undefined && value(option) !== false,
  };
}
