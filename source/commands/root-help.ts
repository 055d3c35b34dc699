import { VERSION } from '../job/version.ts';
import type { Command } from './command.ts';
import { COMMANDS } from './table.ts';

const WIDE = 26;
/** What is about the program and no part of the work shares a row. */
const ABOUT_ITSELF = COMMANDS.filter(({ name }) => name === 'completion' || name === 'manual');
const WORK = COMMANDS.filter((command) => !ABOUT_ITSELF.includes(command));

/** Help on the whole program, made to fit a terminal of 80 x 24. */
export function rootHelp(): string {
  const row = (left: string, right: string): string => `  ${left.padEnd(WIDE)}${right}`;
  return [
    `loopward ${VERSION} leads the changeover of an old hard-wired alarm panel to a`,
    '12 V DC input board. Local codes and licensed practice come first.',
    row('loopward', 'opens the screens: jobs, the demo'),
    ...WORK.map((command) => row(usageOf(command), command.summary)),
    row(ABOUT_ITSELF.map(usageOf).join('  '), 'for the shell, and for man'),
    'Where they fit: --json  --jobs DIR  --plain  -V    More: loopward COMMAND -h',
    '',
  ].join('\n');
}

function usageOf({ name, arguments: takes }: Command): string {
  return [name, ...takes.filter(({ flags }) => !flags.includes('...')).map(({ flags }) => named(flags))].join(
    ' ',
  );
}

/** `<job>` as `JOB`; what may be left out stays in brackets. */
function named(flags: string): string {
  return flags.startsWith('<') ? flags.slice(1, -1).toUpperCase() : flags.toUpperCase();
}
