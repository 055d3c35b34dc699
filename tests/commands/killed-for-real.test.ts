import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realSystem } from '../../source/journal/system.ts';
import { folder } from '../job/small-job.ts';
import { seeded } from '../journal/world.ts';
import { report, scale } from '../scale.ts';

const SEED = 240;
const PATIENCE = { timeout: 1_200_000 };
/** What ships. */
const program = resolve(import.meta.dirname, '../../dist/cli.js');
const survey = join(folder(), 'outside.yaml');
const picture = join(folder(), 'a.png');

beforeAll(() => {
  writeFileSync(survey, 'format: loopward/survey@1\nsite: {name: Shed}\noutside: {feed: dc-adapter}\n');
  writeFileSync(picture, 'a picture '.repeat(100_000));
});

function cli(home: string, ...args: string[]) {
  return spawnSync(process.execPath, [program, ...args], {
    env: { ...process.env, LOOPWARD_HOME: home },
    encoding: 'utf8',
  });
}

/** Runs a command and ends it with SIGKILL after so long; whether it had ended by itself. */
function killed(home: string, milliseconds: number, args: readonly string[]): Promise<boolean> {
  const child = spawn(process.execPath, [program, ...args], {
    env: { ...process.env, LOOPWARD_HOME: home },
    stdio: 'ignore',
  });
  const timer = setTimeout(() => child.kill('SIGKILL'), milliseconds);
  return new Promise((done) =>
    child.on('close', (code) => {
      clearTimeout(timer);
      done(code !== null);
    }),
  );
}

function isLive(dir: string): boolean {
  try {
    Journal.open(dir, realSystem()).close();
    return true;
  } catch (error) {
    if (error instanceof JournalError) return false;
    throw error;
  }
}

function notes(dir: string): string[] {
  return [...readHistory(dir)].filter(({ kind }) => kind === 'note').map(({ says }) => says);
}

const COMMANDS: readonly [string, (home: string) => readonly string[]][] = [
  ['start', (home) => ['start', survey, '--job', join(home, 'new')]],
  ['carry-on', (home) => ['carry-on', join(home, 'job'), '--job', join(home, 'onward')]],
  ['handover', (home) => ['handover', join(home, 'job'), '--out', join(home, 'out')]],
  ['photo', (home) => ['act', join(home, 'job'), JSON.stringify({ do: 'photo', path: picture })]],
  [
    'shift',
    (home) => ['act', join(home, 'job'), '{"do":"start-shift","name":"Bo Marsh","instrument":"meter 4"}'],
  ],
];

describe('what ships, killed for real at a moment drawn by seed', PATIENCE, () => {
  test.each(COMMANDS)(
    '%s: nothing acknowledged is lost, nothing forks, and the same again ends well',
    async (name, of) => {
      const random = seeded(SEED + name.length);
      const kills = scale(200, 0.03);
      let inTime = 0;
      let longest = 0;
      for (let round = 0; round < kills; round += 1) {
        const home = folder();
        const job = join(home, 'job');
        expect(cli(home, 'start', survey, '--job', job).status).toBe(0);
        cli(home, 'act', job, '{"do":"start-shift","name":"Ada Lovett","instrument":"meter 3"}');
        expect(cli(home, 'act', job, '{"do":"note","text":"acknowledged"}').status).toBe(0);
        const began = performance.now();
        // The first round runs to its end, and tells how long that takes here.
        const ended = await killed(home, round === 0 ? 60_000 : random() * longest, of(home));
        if (round === 0) longest = performance.now() - began;
        if (!ended) inTime += 1;
        const live = [job, join(home, 'onward')].filter((dir) => existsSync(dir) && isLive(dir));
        expect(live.length).toBeLessThanOrEqual(1);
        const again = cli(home, ...of(home));
        // A start that had said that it was done is refused the second time.
        expect([0, ...(ended ? [2] : [])]).toContain(again.status);
        const where = name === 'carry-on' ? join(home, 'onward') : job;
        expect([job, join(home, 'onward')].filter((dir) => existsSync(dir) && isLive(dir))).toEqual([where]);
        expect(notes(where)).toEqual(['Note: acknowledged']);
        expect(cli(home, 'verify', where).status).toBe(0);
        expect(cli(home, 'next', where).status).toBe(0);
        const shifts = [...readHistory(where)].filter(({ data }) => data.do === 'start-shift');
        expect(shifts[0]?.person).toBe('Ada Lovett');
        expect(shifts.slice(1).every(({ person }) => person === 'Bo Marsh')).toBe(true);
        if (name === 'photo') expect(readdirSync(join(job, 'attachments'))).toHaveLength(1);
        if (name === 'handover')
          expect(readFileSync(join(home, 'out', 'handover.html'), 'utf8')).toMatch(/<\/html>\s*$/);
        expect(readdirSync(dirname(job)).filter((one) => one.endsWith('.making'))).toEqual([]);
      }
      report(`${name} killed for real, seed ${SEED + name.length}`, [
        { kills: inTime, 'ended first': kills - inTime, lost: 0, forks: 0 },
      ]);
    },
  );
});
