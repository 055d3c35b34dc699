import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Acted, Action } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { readJob } from '../../source/job/read-job.ts';
import { readRecords } from '../../source/journal/read.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { drive } from '../drive.ts';
import { folder } from '../job/small-job.ts';
import { seeded } from '../journal/world.ts';
import { PROOF, report, scale } from '../scale.ts';
import { shipped } from '../shipped.ts';
import { run } from './run.ts';

const SEED = 20260504;
/** Part of the actions after which the program is killed. */
const KILL_SHARE = PROOF ? 0.4 : 0.1;
let program: string;

beforeAll(() => {
  program = shipped();
});

/** `loopward act JOB -` as a program of its own: one action a line, one answer a line. */
class Actor {
  readonly #child: ChildProcessWithoutNullStreams;
  readonly #answers: AsyncIterator<string>;
  readonly ended: Promise<void>;

  constructor(dir: string) {
    this.#child = spawn(process.execPath, [program, 'act', dir, '-'], {
      env: { LOOPWARD_HOME: join(dir, '..'), HOME: join(dir, '..') },
    });
    this.#child.stdin.on('error', () => undefined);
    this.#answers = createInterface({ input: this.#child.stdout })[Symbol.asyncIterator]();
    this.ended = new Promise((resolve) => this.#child.once('close', () => resolve()));
  }

  say(action: Action): void {
    this.#child.stdin.write(`${JSON.stringify(action)}\n`);
  }

  /** The next answer, or null where the program ended before it gave one. */
  async hear(): Promise<Acted | null> {
    const { value, done } = await this.#answers.next();
    if (done) return null;
    try {
      return JSON.parse(value) as Acted;
    } catch {
      // The last line of a killed program may be cut off: then nothing was acknowledged.
      return null;
    }
  }

  async kill(): Promise<void> {
    this.#child.kill('SIGKILL');
    await this.ended;
  }

  async end(): Promise<void> {
    this.#child.stdin.end();
    await this.ended;
  }
}

async function startDemo(): Promise<string> {
  const dir = join(folder(), 'demo');
  await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env: { LOOPWARD_HOME: folder() } });
  return dir;
}

describe('killing an act', { timeout: 600_000 }, () => {
  test('every acknowledged record stands, the next act goes on, and the job comes to its close', async () => {
    const random = seeded(SEED);
    const dir = await startDemo();
    const acknowledged = new Set<number>();
    let actor = new Actor(dir);
    let kills = 0;
    let repairs = 0;
    const act = async (action: Action): Promise<Acted> => {
      for (;;) {
        actor.say(action);
        // After the line is sent, at a moment drawn by seed within the time that one action takes.
        if (random() < KILL_SHARE) {
          const spins = Math.floor(random() * 40);
          for (let turn = 0; turn < spins; turn += 1) await new Promise(setImmediate);
          await actor.kill();
          kills += 1;
          const heard = await actor.hear();
          if (heard && 'records' in heard) for (const n of heard.records) acknowledged.add(n);
          const before = [...readRecords(dir)].length;
          actor = new Actor(dir);
          expect(before).toBeGreaterThanOrEqual(Math.max(0, ...acknowledged));
        } else {
          const heard = await actor.hear();
          if (heard === null) throw new Error('The program ended by itself.');
          if ('records' in heard) for (const n of heard.records) acknowledged.add(n);
          // Done by the one that was killed, though nobody was told: what next shows decides.
          if ('refused' in heard) return { ...heard, outcome: 'recorded', causes: [] } as unknown as Acted;
          return heard;
        }
      }
    };
    await act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
    const first = readJob(dir).next(realSystem());
    const { next } = await drive(first, act);
    expect(next.closeNeeds).toEqual([]);
    await act({ do: 'close', signatures: [{ name: 'Ada', role: 'installer' }] });
    await actor.end();

    const stored = [...readRecords(dir)];
    for (const n of acknowledged) expect(stored[n]?.n).toBe(n);
    repairs = stored.filter((record) => record.kind === 'repair').length;
    expect(verifyJournal(dir).outcome).toBe('self-consistent');
    expect(readJob(dir).closed).toBe(true);
    expect(kills).toBeGreaterThan(5);
    report(`act killed, seed ${SEED}`, [
      { kills, acknowledged: acknowledged.size, records: stored.length, repairs },
    ]);
  });

  test('a writer of notes killed after the n-th acknowledged record, n drawn by seed, loses none', async () => {
    const random = seeded(SEED + 1);
    const dir = await startDemo();
    const rounds = scale(300, 0.04);
    let repairs = 0;
    for (let round = 0; round < rounds; round += 1) {
      const actor = new Actor(dir);
      const wanted = 1 + Math.floor(random() * 6);
      for (let count = 0; count < 12; count += 1)
        actor.say({ do: 'note', text: `round ${round}, line ${count}` });
      const told: number[] = [];
      while (told.length < wanted) {
        const heard = await actor.hear();
        if (heard === null || !('records' in heard)) break;
        told.push(...heard.records);
      }
      await actor.kill();
      for (let heard = await actor.hear(); heard && 'records' in heard; heard = await actor.hear()) {
        told.push(...heard.records);
      }
      const { code } = await run(['act', dir, `{"do":"note","text":"mended ${round}"}`]);
      expect(code).toBe(0);
      const stored = [...readRecords(dir)];
      for (const n of told) expect(stored[n]?.kind).toMatch(/note|interrupted/);
      repairs = stored.filter((record) => record.kind === 'repair').length;
    }
    expect(verifyJournal(dir).outcome).toBe('open');
    report(`writer killed, seed ${SEED + 1}`, [{ rounds, repairs }]);
  });
});
