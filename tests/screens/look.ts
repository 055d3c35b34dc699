import { renderToString } from 'ink';
import { createElement } from 'react';
import { Screens } from '../../source/screens/app/view.tsx';
import { CASES, caseAt } from './cases.ts';

/**
 * Opens each screen with sample data, for eyeballing, at the size of the terminal: `npm run look`, or from one of them
 * on: `npm run look -- far`. Without a terminal every screen is printed, one after the other.
 */
const names = Object.keys(CASES);
const { stdin, stdout } = process;
const wanted = process.argv[2];
let at = 0;
if (wanted !== undefined) {
  at = names.indexOf(wanted);
  if (at < 0) {
    console.error(`There is no screen "${wanted}". Name one of: ${names.join(', ')}`);
    process.exit(2);
  }
}

function frameOf(name: string): string {
  // One row is left for what stands below the screen here.
  const size = { columns: stdout.columns ?? 80, rows: (stdout.rows ?? 24) - 1 };
  const palette = process.env.NO_COLOR ? 'none' : 'dark';
  const { store } = caseAt(name, size, { palette });
  return renderToString(createElement(Screens, { store }), { columns: size.columns });
}

function show(): void {
  const name = names[at]!;
  const foot = `${at + 1} of ${names.length}: ${name}   Space next   b back   q end`;
  stdout.write(`\x1b[2J\x1b[H${frameOf(name)}\n\x1b[${stdout.rows};1H\x1b[7m${foot}\x1b[0m`);
}

if (stdin.isTTY && stdout.isTTY) {
  const leave = () => {
    stdout.write('\x1b[?25h\x1b[?1049l');
    process.exit(0);
  };
  stdout.write('\x1b[?1049h\x1b[?25l');
  stdin.setRawMode(true);
  stdin.setEncoding('utf8');
  stdout.on('resize', show);
  process.once('SIGTERM', leave);
  stdin.on('data', (key: string) => {
    if (key === 'q' || key === '\x03') leave();
    const by = key === 'b' || key === '\x1b[D' ? -1 : 1;
    at = (at + by + names.length) % names.length;
    show();
  });
  show();
} else {
  for (const name of names.slice(at)) stdout.write(`### ${name}\n${frameOf(name)}\n`);
}
