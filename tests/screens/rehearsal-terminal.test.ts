import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Next } from '../../source/job/action.ts';
import { jobFolders } from '../../source/job/jobs.ts';
import { readJob } from '../../source/job/read-job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { pick } from '../../source/rehearsal/technician/next-card.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { report, scale } from '../scale.ts';
import { shipped } from '../shipped.ts';
import { RealTerminal, scratchFolder } from './real-terminal.ts';
import { bytesOf, shownStep } from './typist.ts';

const SEED = 5;
const MINUTE = 60_000;

let program = '';
beforeAll(() => {
  program = shipped();
}, MINUTE);

const opened: RealTerminal[] = [];
afterAll(async () => {
  for (const terminal of opened) await terminal.close();
});

/** Somebody before a rehearsal in a real terminal who knows nothing but what the screen says. */
class Apprentice {
  readonly terminal: RealTerminal;
  readonly folder: string;
  readonly looked: string[] = [];
  asked = 0;

  constructor(folder: string) {
    this.folder = folder;
    this.terminal = new RealTerminal(program, [], { env: { LOOPWARD_HOME: folder } });
    opened.push(this.terminal);
  }

  next(): Next {
    return readJob(jobFolders(this.folder)[0]!).next();
  }

  get text(): string {
    return this.terminal.rows.join(' ').replaceAll(/\s+/g, ' ');
  }

  async keys(...keys: readonly string[]): Promise<void> {
    for (const key of keys) await this.terminal.press(bytesOf(key));
  }

  /** Asks the building for the field in hand, and types what it says. */
  async answer(): Promise<void> {
    while (this.text.includes('Backspace erase')) await this.keys('left');
    await this.keys(...(this.text.includes('m rehearsal') ? ['m'] : ['left', '2', '1']));
    this.asked += 1;
    await this.terminal.sees('In this building: ');
    const told = /In this building: (.*?)\. /.exec(this.text)?.[1];
    if (told === undefined) throw new Error(`The building says nothing:\n${this.terminal.text}`);
    const [, shows] = /^the meter shows (.*)$/.exec(told) ?? [];
    const number = /^(-?\d+(?:\.\d+)?)\b/.exec(shows ?? told)?.[1];
    await this.keys(...(shows === 'OL' ? ['right'] : [...(number ?? told)]), 'enter');
  }

  /** Works on until nothing is left; goes and looks wherever something does not fit. */
  async work(until: string | null): Promise<void> {
    for (let turn = 0; ; turn++) {
      // A job has some hundred questions: whoever gets here goes in circles.
      if (turn > 1000) throw new Error(`It leads nowhere:\n${this.terminal.text}`);
      const next = this.next();
      if (shownStep(next) === null || (until !== null && next.doneSteps.includes(until))) return;
      if (this.text.includes('A question first')) await this.keys('2', 'enter');
      else if (this.text.includes('It may be, the likeliest first')) await this.look();
      else await this.answer();
    }
  }

  async look(): Promise<void> {
    await this.keys('g');
    // What is natural in a building, a voltage that a cable picks up, stands as it was read.
    const isNothing = this.text.includes('Nothing is found behind it');
    if (!isNothing) this.looked.push(this.terminal.text);
    await this.keys(isNothing && this.text.includes('2 go on') ? '2' : '1');
  }
}

/** A rehearsal in the building of `SEED`, worked up to a step by the same answers but without a screen; or not at all. */
function begun(folder: string, fault: string, step: string | null): void {
  const system = realSystem();
  const random = (bytes: number) =>
    bytes === 2 ? Uint8Array.of((SEED - 1) >> 8, (SEED - 1) & 255) : system.random(bytes);
  const port = shelfOf(folder, { ...system, random }).openRehearsal(null, { fault });
  if (typeof port === 'string') throw new Error(port);
  if (step !== null) port.act({ do: 'start-shift', name: 'Nadia', instrument: 'bench meter', zero: '0.3' });
  while (step !== null) {
    const card = pick(port.look().next, new Map(), false)!;
    if (card.id === step) break;
    const acknowledge = ['looks-like-a-code', 'typed-too-soon', 'wrong-multiple'];
    const acted = port.act({ do: 'confirm', step: card.id, values: port.meter(card.id), acknowledge });
    if (!('outcome' in acted) || acted.outcome === 'failed') throw new Error(card.id);
  }
  port.close();
}

// The whole way takes minutes: the share that is taken begins at the step before the fault.
const isWhole = scale(2, 0.5) === 2;

describe('a rehearsal in a real terminal', () => {
  test('what is wrong in it is chosen by keys', async () => {
    const apprentice = new Apprentice(scratchFolder());
    const { terminal } = apprentice;
    await terminal.sees('A rehearsal');
    await apprentice.keys(/(\d) {2}A rehearsal/.exec(terminal.text)![1]!);
    await apprentice.keys(/(\d) {2}One thing is wrong, and I choose/.exec(terminal.text)![1]!);
    await apprentice.keys('down', 'down', 'down');
    expect(apprentice.text).toContain('The contact of one detector stays open');
    await apprentice.keys('enter');
    await terminal.sees('where the job stands');
    const job = readJob(jobFolders(apprentice.folder)[0]!);
    expect(job.rehearsal?.faults).toEqual(['contact-stuck-open']);
  });

  test(
    `is worked by what its building answers, ${isWhole ? 'from the first step to closed' : 'past its fault'}; the debrief says where that was found`,
    async () => {
      const folder = scratchFolder();
      begun(folder, 'contact-stuck-open', isWhole ? null : 'split.z1');
      const apprentice = new Apprentice(folder);
      const { terminal } = apprentice;
      await terminal.sees('loopward · jobs');
      await apprentice.keys('1');
      await terminal.sees('where the job stands');
      await apprentice.keys('1');
      if (isWhole) await apprentice.keys(...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter');

      await apprentice.work('split.z1');
      expect(apprentice.looked.length).toBe(1);
      expect(apprentice.looked[0]).toContain('shutter stands open, or its contact stays open.');
      expect(apprentice.looked[0]).toContain('The contact of shutter was replaced.');
      if (isWhole) await apprentice.work(null);
      // The same in a small terminal.
      terminal.resize(60, 20);
      await terminal.until(() => terminal.rows.every((row) => row.length <= 60), 'the smaller screen');
      if (isWhole) {
        await terminal.sees('Every step is done.');
        await apprentice.keys('1', '1', 'enter', '1', 'enter', '7');
      } else {
        // Each is waited for: a frame of the smaller screen may come between, and keys in one run are not taken.
        await apprentice.keys('left');
        await terminal.sees('What now?');
        await apprentice.keys('7');
        await terminal.sees('what was found where');
        await apprentice.keys(/(\d) {2}[^\n]*what was found where/.exec(terminal.text)![1]!);
      }
      await terminal.sees('cards confirmed');
      expect(apprentice.text).toMatch(
        /contact-stuck-open, found at (?:measure|split)\.z1: The contact of one detector stays open whatever its door does\. Seed 5\. \d+ cards confirmed, \d+ min\./,
      );
      if (isWhole) expect(apprentice.next().closed).toBe(true);
      expect(apprentice.asked).toBeGreaterThan(20);
      report('fields asked of the building by key', [{ asked: apprentice.asked }]);
    },
    scale(30, 0.1) * MINUTE,
  );
});
