import { VERSION } from '../job/version.ts';
import type { Command, Run } from './command.ts';
import { EXIT } from './exit.ts';
import { COMMANDS } from './table.ts';

export const run: Run = (_, context) => {
  context.out(manualPage());
  return EXIT.done;
};

/** The manual page, in the macros of man(7), from the table of commands. */
function manualPage(): string {
  return [
    `.TH LOOPWARD 1 "" "loopward ${VERSION}" "User Commands"`,
    '.SH NAME',
    'loopward \\- leads the changeover of an old hard\\-wired intruder\\-alarm panel to a 12 V DC input board',
    '.SH SYNOPSIS',
    '.B loopward',
    '[\\fICOMMAND\\fR] [\\fIOPTION\\fR]...',
    '.SH DESCRIPTION',
    'Without a command the screens open: jobs, a new survey, the demo job. Local codes and licensed practice come first.',
    '.SH COMMANDS',
    ...COMMANDS.flatMap(section),
    '.SH EXIT STATUS',
    ...EXITS.flatMap(([code, says]) => ['.TP', `.B ${code}`, says]),
    '.SH ENVIRONMENT',
    '.TP',
    '.B LOOPWARD_HOME',
    'The jobs folder, over the settings.',
    '.TP',
    '.B NO_COLOR',
    'Without colour, whatever its value.',
  ].join('\n');
}

const EXITS = [
  ['0', 'done'],
  ['1', 'a defect in the program'],
  ['2', 'wrong use or unreadable input'],
  ['3', 'refused or blocked: a gate, or a plan that must not go ahead'],
  ['4', 'a record failed verification'],
] as const;

function section({ name, summary, arguments: takes, options, example }: Command): string[] {
  const written = takes.map(({ flags }) => ` \\fI${roff(flags)}\\fR`).join('');
  return [
    `.SS ${name}${written}`,
    roff(capital(summary)),
    ...options.flatMap(({ flags, says }) => ['.TP', `.B ${roff(flags)}`, roff(says)]),
    '.PP',
    'Example:',
    `.B ${roff(example)}`,
  ];
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

/** A leading dot or quote is a request to the formatter, a hyphen no minus, and what is not ASCII goes by number. */
function roff(text: string): string {
  const plain = text
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replaceAll(/^([.'])/gm, '\\&$1');
  return plain.replaceAll(/[^\p{ASCII}]/gu, (sign) => {
    return `\\[u${sign.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`;
  });
}
