import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { isBeingMade } from '../../source/journal/aside.ts';
import { readLedger } from '../../source/journal/ledger.ts';
import { folder } from '../job/small-job.ts';
import { report } from '../scale.ts';
import { killEverywhere, program } from './killed-calls.ts';
import { run } from './run.ts';

const survey = join(folder(), 'outside.yaml');
writeFileSync(survey, 'format: loopward/survey@1\nsite: {name: Shed}\noutside: {feed: dc-adapter}\n');

const PATIENCE = { timeout: 300_000 };

describe('a start that is killed at any call', PATIENCE, () => {
  test('and repeated, ends as if it had not been: one job, nothing beside it, entered once', async () => {
    let halfMade = 0;
    const kills = await killEverywhere(
      () => folder(),
      (system, home) =>
        run(['start', survey, '--job', join(home, 'job')], { system, env: { LOOPWARD_HOME: home } }),
      async (home, at) => {
        const between = readdirSync(home).filter((name) => !name.startsWith('.'));
        expect(between.filter((name) => name !== 'job')).toEqual([]);
        halfMade += readdirSync(home).filter(isBeingMade).length;
        const again = program();
        const ran = await run(['start', survey, '--job', join(home, 'job')], {
          system: again.system,
          env: { LOOPWARD_HOME: home },
        });
        expect({ at, ...ran }).toMatchObject({ code: 0, err: '' });
        expect(readdirSync(home).sort()).toEqual(['.ledger', 'job']);
        expect([...readLedger(join(home, '.ledger'))]).toHaveLength(1);
        expect(await run(['next', join(home, 'job'), '--json'])).toMatchObject({ code: 0 });
        expect(await run(['verify', join(home, 'job')])).toMatchObject({ code: 0 });
      },
    );
    expect(halfMade).toBeGreaterThan(kills / 4);
    expect(kills).toBeGreaterThan(40);
    report('start killed at every call', [{ kills, 'half-made, cleared by the next': halfMade, lost: 0 }]);
  });

  test('without --job no second job stands beside the one that nobody was told of', async () => {
    const kills = await killEverywhere(
      () => folder(),
      (system, home) => run(['start', survey], { system, env: { LOOPWARD_HOME: home } }),
      async (home) => {
        const ran = await run(['start', survey], { system: program().system, env: { LOOPWARD_HOME: home } });
        expect(ran).toMatchObject({ code: 0, err: '' });
        expect(readdirSync(home).filter((name) => !name.startsWith('.'))).toHaveLength(1);
      },
      // Before the folder has its name it is as above.
      (calls) => calls.indexOf('rename', calls.indexOf('rename') + 1),
    );
    expect(kills).toBeGreaterThan(10);
  });

  test('what another one that lives is making is left alone, and so is what only looks like it', async () => {
    const home = folder();
    const living = program();
    const { asideOf } = await import('../../source/journal/aside.ts');
    const theirs = asideOf(join(home, 'job'), 'start', join(home, 'job'), living.system);
    mkdirSync(theirs);
    mkdirSync(join(home, '.mine.making'));
    const both = {
      ...program().system,
      processStart: (pid: number) => living.system.processStart(pid) ?? `start of ${pid}`,
    };
    expect(await run(['start', survey], { system: both, env: { LOOPWARD_HOME: home } })).toMatchObject({
      code: 0,
    });
    expect(readdirSync(home)).toEqual(
      expect.arrayContaining(['.mine.making', theirs.slice(home.length + 1)]),
    );
  });

  test('a job that was started and told of is not taken for one that was killed', async () => {
    const home = folder();
    const start = () => run(['start', survey, '--job', join(home, 'job')], { env: { LOOPWARD_HOME: home } });
    expect(await start()).toMatchObject({ code: 0 });
    expect(await start()).toMatchObject({ code: 2, err: expect.stringContaining('holds something') });
  });
});
