import { join } from 'node:path';
import type { Next, OpenStep } from '../../source/job/action.ts';
import { readJob } from '../../source/job/read-job.ts';
import { RealTerminal } from './real-terminal.ts';
import { bytesOf, keysForField, shownStep } from './typist.ts';

/** Leads the demo in a real terminal by the keys of a numeric keypad; what to answer it learns from the job's `next`. */
export class Keypad {
  readonly terminal: RealTerminal;
  /** The job's folder. */
  dir: string;
  pressed = 0;
  /** After so many keys the program is killed, in the middle of whatever it does. */
  killAfter = Number.POSITIVE_INFINITY;

  constructor(program: string, home: string, args: readonly string[] = ['demo']) {
    this.terminal = new RealTerminal(program, args, { env: { LOOPWARD_HOME: home } });
    this.dir = join(home, 'demo');
  }

  next(): Next {
    return readJob(this.dir).next();
  }

  async keys(...keys: readonly string[]): Promise<void> {
    for (const key of keys) {
      if (this.pressed++ >= this.killAfter) {
        // The key is on its way when the program dies: nobody can say how far it came.
        this.terminal.send(bytesOf(key));
        this.terminal.kill('SIGKILL');
        await this.terminal.ended;
        throw new Killed();
      }
      await this.terminal.press(bytesOf(key));
    }
  }

  /** From where the job stands when the screens open to the first step. */
  async startShift(): Promise<void> {
    await this.terminal.sees('where the job stands');
    if (this.next().person !== null) return this.keys('1');
    await this.keys('1');
    await this.terminal.sees('Who is working?');
    for (let field = this.field(); ; field = this.field()) {
      await this.clear();
      const known = this.terminal.text.includes('   1 ');
      if (field === 0)
        await this.keys(...(known ? ['1'] : ['down', 'enter', 'enter', 'left', 'enter']), 'enter');
      else if (field === 1) await this.keys('2', 'enter');
      else break;
    }
    await this.keys('0', '.', '3', 'enter');
  }

  /** Answers the step on the screen; false where there is none left. */
  async oneStep(): Promise<boolean> {
    const step = shownStep(this.next());
    if (step === null) return false;
    await this.terminal.until(() => this.isOn(step), `the step ${step.id}`);
    while (this.isOn(step)) {
      await this.clear();
      await this.keys(...keysForField(step, this.field()), 'enter');
      if (this.terminal.text.includes('A question first')) await this.keys('2', 'enter');
    }
    return true;
  }

  /** Whether the screen shows this step, from the words of its title. */
  isOn(step: OpenStep): boolean {
    const shown = this.terminal.rows.join(' ').replaceAll(/\s+/g, ' ');
    return (
      shown.split('then →')[0]!.includes(step.title) &&
      shown.includes('›') &&
      !shown.includes(`✓ Recorded: ${step.title}`)
    );
  }

  /** The number of the field that has the keys. */
  field(): number {
    return Number(/^› (\d+)\/\d+ /m.exec(this.terminal.text)?.[1] ?? 1) - 1;
  }

  async clear(): Promise<void> {
    while (this.terminal.text.includes('Backspace erase')) await this.keys('left');
  }

  async close(): Promise<void> {
    await this.terminal.sees('Every step is done.');
    await this.keys('1', '1', 'enter', '1', 'enter');
    await this.terminal.sees('Closed');
  }
}

export class Killed extends Error {}
