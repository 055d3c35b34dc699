import { VERSION } from '../job/version.ts';
import { COMMANDS } from './table.ts';

const WIDE = 26;

/** Help on the whole program, made to fit a terminal of 80 x 24. */
export function rootHelp(): string {
  const row = (left: string, right: string): string => `  ${left.padEnd(WIDE)}${right}`;
  return [
    `loopward ${VERSION} leads the changeover of an old hard-wired alarm panel to a`,
    '12 V DC input board. Local codes and licensed practice come first.',
    row('loopward', 'opens the screens: jobs, the demo'),
    ...COMMANDS.map(({ name, arguments: takes, summary }) =>
      row([name, ...takes.map(({ flags }) => named(flags))].join(' '), summary),
    ),
    'Wherever they fit: --json  --jobs DIR  --plain  -h, --help  -V, --version',
    'Example:  $ loopward demo          More: $ loopward COMMAND --help',
    '',
  ].join('\n');
}

/** `<job>` as `JOB`; what may be left out stays in brackets. */
function named(flags: string): string {
  return flags.startsWith('<') ? flags.slice(1, -1).toUpperCase() : flags.toUpperCase();
}
