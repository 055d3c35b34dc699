import { readdirSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { jobFolders } from '../../source/job/jobs.ts';
import { readJob } from '../../source/job/read-job.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report, scale } from '../scale.ts';
import { shipped } from '../shipped.ts';
import { CLUB } from './club.ts';
import { Keypad, Killed } from './keypad.ts';
import { scratchFolder } from './real-terminal.ts';
import { seeded } from './seeded.ts';
import { shownStep } from './typist.ts';

const MINUTE = 60_000;

let program = '';
beforeAll(() => {
  program = shipped();
}, MINUTE);

const opened: Keypad[] = [];
afterAll(async () => {
  for (const { terminal } of opened) await terminal.close();
});

function openDemo(home: string): Keypad {
  const keypad = new Keypad(program, home);
  opened.push(keypad);
  return keypad;
}

describe('the demo in a real terminal', () => {
  test(
    'is led from the first step to closed with the keys of a numeric keypad alone',
    async () => {
      const keypad = openDemo(scratchFolder());
      await keypad.startShift();
      while (await keypad.oneStep());
      await keypad.close();

      expect(readJob(keypad.dir).closed).toBe(true);
      expect(verifyJournal(keypad.dir).outcome).toBe('self-consistent');
      expect(readdirSync(keypad.dir)).not.toContain('draft.json');
      await keypad.keys('5');
      expect(await keypad.terminal.ended).toEqual({ code: 0, signal: 0 });
      expect(keypad.terminal.isAlternate).toBe(false);
      expect(keypad.terminal.text).toContain('closed');
      report('keys to lead the demo to closed', [{ keys: keypad.pressed }]);
    },
    3 * MINUTE,
  );

  test(
    'is surveyed from an empty start and led to closed with keys alone',
    async () => {
      const home = scratchFolder();
      const keypad = new Keypad(program, home, []);
      opened.push(keypad);
      await keypad.terminal.sees('A new job');
      await keypad.keys('1');
      for (const label of CLUB) await keypad.keys(...(label.startsWith('"') ? label.slice(1) : [label]));
      await keypad.terminal.sees('What now?');
      await keypad.keys('1');
      await keypad.terminal.sees('where the job stands');
      keypad.dir = jobFolders(home)[0]!;
      await keypad.startShift();
      while (await keypad.oneStep());
      await keypad.close();
      expect(verifyJournal(keypad.dir).outcome).toBe('self-consistent');
      report('keys from survey entry to closed', [{ keys: keypad.pressed }]);
    },
    5 * MINUTE,
  );

  test(
    'killed at any moment, goes on at the same step, with dead to be proved again and nothing confirmed lost',
    async () => {
      const home = scratchFolder();
      const random = seeded(20260504);
      const rows: Record<string, unknown>[] = [];
      const kills = scale(60, 0.1);
      // The first kills come anywhere on the way; a share of a run reaches past the proof of dead.
      const reach = scale(560, 0.45);
      let keypad = openDemo(home);
      for (let kill = 0; kill < kills; kill++) {
        const upTo = Math.ceil(reach / kills);
        const keysLeft = Math.floor(upTo / 2 + random() * upTo);
        keypad.killAfter = keypad.pressed + keysLeft;
        await leadUntilKilled(keypad);
        const before = readJob(keypad.dir);
        const { supply } = before.state;
        const done = before.next().doneSteps;
        const shown = shownStep(before.next());

        keypad = openDemo(home);
        await keypad.terminal.sees('where the job stands');
        if (supply === 'dead' || supply === 'unproven') {
          expect(keypad.terminal.text).toContain('NOT PROVED DEAD');
          expect(keypad.terminal.text).toContain('(not proved)');
        }
        const after = readJob(keypad.dir);
        expect(after.state.supply).toBe(supply === 'dead' ? 'unproven' : supply);
        expect(after.next().doneSteps).toEqual(expect.arrayContaining([...done]));
        await keypad.startShift();
        // What dead rests on is proved first; then the step is the one that was in hand.
        while (keypad.next().supply === 'unproven') await keypad.oneStep();
        const again = shownStep(keypad.next());
        if (!shown?.repeatable) expect(again?.id).toBe(shown?.id);
        rows.push({ kill, keys: keysLeft, supply, shown: shown?.id, again: again?.id });
      }
      report('kills of the screens', rows);
    },
    scale(30, 0.1) * MINUTE,
  );
});

async function leadUntilKilled(keypad: Keypad): Promise<void> {
  try {
    if (keypad.terminal.text.includes('where the job stands') || keypad.pressed === 0)
      await keypad.startShift();
    while (await keypad.oneStep());
    throw new Error('The job was done before the kill came.');
  } catch (error) {
    if (!(error instanceof Killed)) throw error;
  }
}
