import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { Lock } from '../../source/journal/lock.ts';
import { readRecords } from '../../source/journal/read.ts';
import { realSystem, type System } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { PROOF, report, scale } from '../scale.ts';
import { MemoryDisk } from './memory-disk.ts';
import { type Acknowledged, bundleWriter, runWriter, scratchFolder } from './programs.ts';
import { DIR } from './sample.ts';
import { fakeSystem, PATIENCE } from './world.ts';

const folder = scratchFolder();
let writer = '';
beforeAll(() => {
  writer = bundleWriter(folder);
});

describe('who holds a lock', () => {
  function held(holder: Partial<System> = {}): System {
    const system = { ...fakeSystem(), processStart: (pid: number) => `start of ${pid}`, ...holder };
    Lock.acquire(DIR, system);
    return system;
  }

  test('another program that lives keeps it, however old it is', () => {
    expect(() => Lock.acquire(DIR, { ...held(), pid: 5 })).toThrow('being written by process 4711');
  });

  test.each<[string, Partial<System>]>([
    ['of which no process is left', { processStart: (pid: number) => (pid === 5 ? 'start of 5' : null) }],
    ['whose pid has been given to another', { processStart: (pid: number) => `another start of ${pid}` }],
    ['from before the computer was started', { bootId: () => 'boot-2' }],
  ])('one %s has lost it', (_, now) => {
    const system = held();
    expect(() => Lock.acquire(DIR, { ...system, pid: 5, ...now })).not.toThrow();
  });

  test('one on another computer keeps it, dead or not: nobody here can tell', () => {
    const there = {
      ...held(),
      host: 'office',
      machine: '0ff1ce',
      pid: 5,
      processStart: () => null,
      bootId: () => 'boot-9',
    };
    expect(() => Lock.acquire(DIR, there)).toThrow('a program on shelf');
    expect(() => Lock.acquire(DIR, there)).toThrow('delete the folder "locks"');
  });

  test('released it is free', () => {
    const system = fakeSystem();
    Lock.acquire(DIR, system).release();
    expect(() => Lock.acquire(DIR, { ...system, pid: 5 })).not.toThrow();
  });

  test('taken a thousand times it leaves a handful of files', () => {
    const system = fakeSystem();
    for (let i = 0; i < 1_000; i += 1) Lock.acquire(DIR, system).release();
    expect(system.files.list(`${DIR}/locks`).length).toBeLessThanOrEqual(9);
  });

  test('a draft left by a program that died over it is cleared away, a living one is not', () => {
    const system = {
      ...fakeSystem(),
      processStart: (pid: number) => (pid === 99 ? null : `start of ${pid}`),
    };
    const disk = system.files as MemoryDisk;
    disk.mkdir(`${DIR}/locks`);
    disk.put(`${DIR}/locks/.99-start of 99-aa`, Buffer.from('{}'));
    disk.put(`${DIR}/locks/.98-start of 98-aa`, Buffer.from('{}'));
    Lock.acquire(DIR, system);
    expect(disk.list(`${DIR}/locks`).sort()).toEqual(['.98-start of 98-aa', '1']);
  });

  test('whoever was slow over a generation that was cleared away stands back', () => {
    const system = { ...fakeSystem(), processStart: (pid: number) => `start of ${pid}` };
    const disk = system.files as MemoryDisk;
    Lock.acquire(DIR, system).release();
    let isSlow = true;
    const slow: System = {
      ...system,
      pid: 5,
      files: new Proxy(disk, {
        get(target, name: keyof MemoryDisk) {
          if (name !== 'link' || !isSlow) {
            const found = target[name];
            return typeof found === 'function' ? (found as (...a: unknown[]) => unknown).bind(target) : found;
          }
          return (from: string, to: string) => {
            isSlow = false;
            // Meanwhile others took and gave up the lock so often that generation 2 is gone; one holds it now.
            for (let i = 0; i < 20; i += 1) Lock.acquire(DIR, system).release();
            Lock.acquire(DIR, system);
            target.link(from, to);
          };
        },
      }),
    };
    expect(() => Lock.acquire(DIR, slow)).toThrow('being written by process 4711');
    expect(disk.list(`${DIR}/locks`)).not.toContain('2');
  });
});

describe('two writers', () => {
  async function race(round: number, locked: boolean) {
    const dir = join(folder, `race-${locked ? 'locked' : 'free'}-${round}`);
    Journal.create(dir, { job: 'hsc-7' }, realSystem()).close();
    const go = `${dir}.go`;
    const args = ['race', dir, 10, locked ? 1 : 0, go];
    let ready = 0;
    const goWhenBothAreReady = (lines: readonly string[]) => {
      if (lines.length === 1 && ++ready === 2) writeFileSync(go, '');
    };
    const ended = await Promise.all([
      runWriter(writer, args, goWhenBothAreReady),
      runWriter(writer, args, goWhenBothAreReady),
    ]);
    const said = ended.flatMap(({ lines }) => lines.slice(1).map((line) => JSON.parse(line) as Acknowledged));
    const numbers = new Set(said.map(({ n }) => n));
    const { outcome, records } = verifyJournal(dir);
    const isForked = numbers.size < said.length || outcome !== 'open';
    return { isForked, said, records, errors: ended.map(({ errors }) => errors).join('') };
  }

  test('never fork a chain, 40 times', PATIENCE, async () => {
    for (let round = 0; round < 40; round += 1) {
      const { isForked, said, records, errors } = await race(round, true);
      expect({ isForked, acknowledged: said.length, records, errors }).toEqual({
        isForked: false,
        acknowledged: 20,
        records: 21,
        errors: '',
      });
    }
  });

  test('fork it without the lock: the check can fail', PATIENCE, async () => {
    let forks = 0;
    let rounds = 0;
    for (; rounds < 40 && (forks === 0 || PROOF); rounds += 1)
      if ((await race(rounds, false)).isForked) forks += 1;
    expect(forks).toBeGreaterThan(0);
    report('two writers without the lock', [{ rounds, forks }]);
  });

  test('without the lock, the guard over the size stops whoever comes second, but not in every case', () => {
    const disk = new MemoryDisk();
    const everyHolderDead = { ...fakeSystem(disk), processStart: () => null };
    Journal.create(DIR, { job: 'hsc-7' }, everyHolderDead).close();
    let isWriting = false;
    const one = Journal.open(DIR, everyHolderDead);
    const two = Journal.open(DIR, {
      ...everyHolderDead,
      files: new Proxy(disk, {
        get(target, name: keyof MemoryDisk) {
          if (name === 'write' && isWriting) {
            isWriting = false;
            one.append('act', { by: 1 });
          }
          const found = target[name];
          return typeof found === 'function' ? (found as (...a: unknown[]) => unknown).bind(target) : found;
        },
      }),
    });
    isWriting = true;
    two.append('act', { by: 2 });
    expect(verifyJournal(DIR, { files: disk }).outcome).not.toBe('open');
    expect(() => one.append('act', { by: 1 })).toThrow('another program changed the file');
  });
});

describe('lock stress', () => {
  test('many programs, some of which die with the lock: never two at a time', PATIENCE, async () => {
    const programs = 8;
    const acquisitions = scale(3_000, 0.1);
    const dir = join(folder, 'stress');
    const log = join(folder, 'stress.log');
    writeFileSync(log, '');
    const taken = () => readFileSync(log, 'utf8').split('enter').length - 1;
    let seed = 1;
    const keepGoing = async (): Promise<void> => {
      while (taken() < acquisitions) {
        seed += 1;
        const times = Math.ceil(acquisitions / programs);
        const { errors } = await runWriter(writer, ['stress', dir, times, seed, log]);
        expect(errors).toBe('');
      }
    };
    await Promise.all(Array.from({ length: programs }, keepGoing));
    const entries = readFileSync(log, 'utf8').trim().split('\n');
    let holder: string | null = null;
    let deaths = 0;
    for (const [line, entry] of entries.entries()) {
      const [what, pid] = entry.split(' ') as [string, string];
      if (what === 'enter') {
        if (holder !== null) expect.fail(`line ${line}: ${pid} entered while ${holder} was inside`);
        holder = pid;
      } else {
        expect(holder).toBe(pid);
        if (what === 'die') deaths += 1;
        holder = null;
      }
    }
    expect(deaths).toBeGreaterThan(0);
    // What the programs that died last left behind goes with the next that takes the lock.
    Lock.acquire(dir, realSystem()).release();
    expect(readdirSync(join(dir, 'locks')).length).toBeLessThanOrEqual(9);
    report('lock stress', [{ programs, acquisitions: taken(), takeovers: deaths, violations: 0 }]);
  });
});

describe('a journal in use', () => {
  test('is not opened a second time, and can be read meanwhile', () => {
    const dir = join(folder, 'in-use');
    const journal = Journal.create(dir, { job: 'hsc-7' }, realSystem());
    journal.append('note', { text: 'one' });
    expect(() => Journal.open(dir, realSystem())).toThrow(JournalError);
    expect([...readRecords(dir)].length).toBe(2);
    journal.close();
    Journal.open(dir, realSystem()).close();
  });
});
