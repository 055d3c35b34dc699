import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Next } from '../../source/job/action.ts';
import { readJob } from '../../source/job/read-job.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { bundled, RealTerminal, scratchFolder } from './real-terminal.ts';
import { answersTo, bytesOf, shownStep } from './typist.ts';

const MINUTES = 60_000;

/** Leads the demo by the keys of a numeric keypad, as far as wanted, and counts them. */
class Keypad {
  readonly terminal: RealTerminal;
  readonly dir: string;
  readonly failed = new Set<string>();
  pressed = 0;

  constructor(terminal: RealTerminal, dir: string) {
    this.terminal = terminal;
    this.dir = dir;
  }

  next(): Next {
    return readJob(this.dir).next();
  }

  async keys(...keys: readonly string[]): Promise<void> {
    for (const key of keys) {
      await this.terminal.press(bytesOf(key));
      this.pressed++;
    }
  }

  /** From where the job stands when the screens open to the first step. */
  async startShift(): Promise<void> {
    await this.terminal.sees('Who');
    await this.keys('enter');
    await this.terminal.sees('Who is working?');
    const known = this.terminal.text.includes('   1 ');
    // The first time the name is spelled with the arrows; later it is picked.
    await this.keys(
      ...(known ? ['1'] : ['down', 'enter', 'enter', 'left', 'enter']),
      'enter',
      '2',
      'enter',
      '0',
      '.',
      '3',
      'enter',
    );
  }

  /** Answers the step on the screen; false where there is none left. */
  async oneStep(): Promise<boolean> {
    const step = shownStep(this.next(), this.failed);
    if (step === null) return false;
    await this.keys(...answersTo(step));
    if (this.terminal.text.includes('A question first')) await this.keys('2', 'enter');
    return true;
  }

  async close(): Promise<void> {
    await this.terminal.sees('Every step is done.');
    await this.keys('1', '1', 'enter', '1', 'enter');
    await this.terminal.sees('Closed');
  }
}

let program = '';
beforeAll(async () => {
  program = await bundled('source/cli.ts');
}, MINUTES);

const opened: RealTerminal[] = [];
afterAll(async () => {
  for (const terminal of opened) await terminal.close();
});

function openDemo(home: string): Keypad {
  const terminal = new RealTerminal(program, ['demo'], { env: { LOOPWARD_HOME: home } });
  opened.push(terminal);
  return new Keypad(terminal, join(home, 'demo'));
}

describe('the demo in a real terminal', () => {
  test(
    'is led from the first step to closed with the keys of a numeric keypad alone',
    async () => {
      const home = scratchFolder();
      const keypad = openDemo(home);
      await keypad.startShift();
      while (await keypad.oneStep());
      await keypad.close();

      const job = readJob(keypad.dir);
      expect(job.closed).toBe(true);
      expect(verifyJournal(keypad.dir).outcome).toBe('self-consistent');
      expect(readdirSync(keypad.dir)).not.toContain('draft.json');
      await keypad.keys('5');
      expect(await keypad.terminal.ended).toEqual({ code: 0, signal: 0 });
      expect(keypad.terminal.isAlternate).toBe(false);
    },
    3 * MINUTES,
  );
});
