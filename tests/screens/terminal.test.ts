import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { scale } from '../scale.ts';
import { drive, SHIFT } from './drive.ts';
import { bundled, RealTerminal } from './real-terminal.ts';
import { seeded } from './seeded.ts';
import { smallJob } from './small-job.ts';
import { bytesOf } from './typist.ts';

let program = '';
beforeAll(async () => {
  program = await bundled('tests/screens/programs/small.ts');
});

let terminal: RealTerminal;
afterEach(() => terminal?.close());

async function opened(
  args: readonly string[] = [],
  size: { columns?: number; rows?: number } = {},
): Promise<void> {
  terminal = new RealTerminal(program, args, size);
  await terminal.sees('where the job stands');
}

async function press(...keys: readonly string[]): Promise<void> {
  for (const key of keys) await terminal.press(bytesOf(key));
}

/** The terminal is as it was before: its own screen, its text, its cursor, nothing of its history wiped. */
function expectRestored(): void {
  expect(terminal.isAlternate).toBe(false);
  expect(terminal.text).toContain('what stood on the screen before');
  expect(terminal.raw.lastIndexOf('\x1b[?25h')).toBeGreaterThan(terminal.raw.lastIndexOf('\x1b[?25l'));
  expect(terminal.raw).not.toContain('\x1b[3J');
}

describe('every way out gives the terminal back', () => {
  test('leaving by key, and says where the job stands', async () => {
    await opened();
    terminal.send('q');
    expect(await terminal.ended).toEqual({ code: 0, signal: 0 });
    expectRestored();
    expect(terminal.text).toContain('0 of 5 done');
    expect(terminal.text).toContain('loopward resume /jobs/small');
  });

  test('Ctrl+C, also in the middle of an entry', async () => {
    await opened();
    await press(...SHIFT, '1', 'enter', '2');
    terminal.send('\x03');
    expect(await terminal.ended).toEqual({ code: 0, signal: 0 });
    expectRestored();
  });

  test.each([
    ['SIGTERM', 143],
    ['SIGHUP', 129],
    ['SIGINT', 130],
  ] as const)('%s', async (signal, code) => {
    await opened();
    terminal.kill(signal);
    expect(await terminal.ended).toEqual({ code, signal: 0 });
    expectRestored();
  });

  test.each(['throws', 'breaks'])('a defect that %s, and says that nothing is lost', async (how) => {
    await opened([how]);
    await press(...SHIFT, '1', 'enter', '2', 'enter', '7', 'enter');
    await press('n', 'x');
    terminal.send('\r');
    expect((await terminal.ended).code).toBe(1);
    expectRestored();
    expect(terminal.text).toContain('A defect in the program');
    expect(terminal.raw).toContain('Nothing that was confirmed is lost');
    expect(terminal.text).not.toMatch(/^\s+at /m);
  });
});

describe('what the terminal cannot show', () => {
  test('without colour nothing is coloured, and every state is still said', async () => {
    terminal = new RealTerminal(program, [], { env: { NO_COLOR: '1' } });
    await terminal.sees('where the job stands');
    await press(...SHIFT);
    expect(terminal.raw).not.toMatch(/\x1b\[(?:3[0-8]|4[0-8]|9\d|10\d)[;m]/);
    expect(terminal.text).toContain('[ OLD SYSTEM LIVE ]');
  });

  test('without UTF-8 every row is ASCII', async () => {
    terminal = new RealTerminal(program, [], { env: { LANG: 'C' } });
    await terminal.sees('where the job stands');
    await press(...SHIFT);
    expect(terminal.text).toMatch(/^[\x20-\x7e\n]*$/);
  });

  test('a screen reader gets linear text on the normal screen', async () => {
    terminal = new RealTerminal(program, [], { env: { INK_SCREEN_READER: 'true' } });
    await terminal.until(() => terminal.text.includes('where the job stands'), 'the briefing');
    expect(terminal.isAlternate).toBe(false);
    terminal.send('q');
    expect((await terminal.ended).code).toBe(0);
  });
});

describe('newlines that nobody meant', () => {
  test('pasted after a number, pass no gate', async () => {
    await opened();
    await press(...SHIFT, '1', 'enter');
    for (const pasted of ['1\r', '1\n', '1\r\n1\r\n']) {
      await terminal.press(pasted);
      expect(terminal.text).toContain('one by one');
      await press('3', 'left');
    }
    await press('2');
    expect(terminal.text).toContain('1 of 5');
    expect(terminal.text).toContain('(picked)');
  });

  test('held down, pass no gate and record nothing', async () => {
    await opened();
    await press(...SHIFT);
    for (let times = 0; times < 30; times++) terminal.send('\r');
    terminal.send('\r'.repeat(40));
    await press('1');
    expect(terminal.text).toContain('1 of 5');
  });
});

test('a storm of sizes leaves no stale row and loses nothing', async () => {
  await opened();
  await press(...SHIFT, '1', 'enter', '3');
  const random = seeded(61);
  for (let turn = 0; turn < scale(100, 0.5); turn++) {
    const size = { columns: 40 + Math.floor(random() * 161), rows: 10 + Math.floor(random() * 51) };
    terminal.resize(size.columns, size.rows);
    const expected = drive(smallJob(), size);
    for (const key of [...SHIFT, '1', 'enter', '3']) expected.press(key);
    expected.store.dispatch({ type: 'resized', ...size });
    const picture = expected.picture();
    await terminal.until(
      () => terminal.text === picture.trimEnd(),
      `the picture of ${size.columns} x ${size.rows}:\n${picture}`,
    );
  }
  terminal.resize(80, 24);
  await terminal.sees('(picked)');
}, 120_000);
