import { type JournalFiles, realFiles, type System } from '../../source/journal/system.ts';
import { fakeSystem } from '../journal/world.ts';
import { PROOF } from '../scale.ts';

/** What a program is told that was killed: nothing more reaches the disk, whatever it does to clean up. */
export class Killed extends Error {}

let programs = 100;

/**
 * A program on the real disk that is killed at its n-th call of the system: that call and all after it do nothing.
 * Each is a program of its own; once `end` was called it no longer runs.
 */
export function program(killAt = Number.POSITIVE_INFINITY) {
  programs += 1;
  const pid = programs;
  const calls: string[] = [];
  const counted = Object.fromEntries(
    Object.entries(realFiles).map(([name, call]) => [
      name,
      (...given: unknown[]) => {
        if (name === 'close') return (call as (...all: unknown[]) => unknown)(...given);
        calls.push(name);
        if (calls.length >= killAt) throw new Killed(`at call ${killAt}`);
        return (call as (...all: unknown[]) => unknown)(...given);
      },
    ]),
  ) as unknown as JournalFiles;
  const running = { now: true };
  const system: System = {
    ...fakeSystem(counted),
    pid,
    processStart: (asked) => (asked === pid && running.now ? `start of ${pid}` : null),
  };
  const end = (): void => {
    running.now = false;
  };
  return { system, calls, end };
}

/**
 * Runs a program and kills it at each of its calls in turn (at every third of them outside the proof, and at the
 * last ones); `scene` makes the place anew, `then` looks at it after.
 *
 * @returns how often it was killed
 */
export async function killEverywhere<S>(
  scene: () => S,
  work: (system: System, scene: S) => unknown,
  then: (scene: S, at: number) => unknown,
  from: (calls: readonly string[]) => number = () => 1,
): Promise<number> {
  let kills = 0;
  const trial = program();
  await work(trial.system, scene());
  trial.end();
  for (let at = from(trial.calls); at <= trial.calls.length; at += 1) {
    if (!PROOF && at % 3 !== 0 && at < trial.calls.length - 3) continue;
    kills += 1;
    const here = scene();
    const killed = program(at);
    try {
      await work(killed.system, here);
    } catch (error) {
      if (!isKill(error)) throw error;
    }
    killed.end();
    await then(here, at);
  }
  return kills;
}

function isKill(error: unknown): boolean {
  return (
    error instanceof Killed ||
    (error instanceof Error && isKill(error.cause)) ||
    /at call/.test(String(error))
  );
}
