import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { carryOnIn } from '../../source/job/carry-on.ts';
import { readHistory } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { findJob } from '../../source/job/jobs.ts';
import { readJob } from '../../source/job/read-job.ts';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realFiles } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { folder, smallJob } from '../job/small-job.ts';
import { report } from '../scale.ts';
import { killEverywhere, program } from './killed-calls.ts';
import { run } from './run.ts';

const PATIENCE = { timeout: 300_000 };

type Scene = { readonly dir: string; readonly into: string };

/** A job with a name, a photograph and a draft of the next card; `damage` comes to it when it is closed. */
function scene(damage: (dir: string) => void = () => undefined): Scene {
  const small = smallJob();
  const picture = join(folder(), 'a.png');
  writeFileSync(picture, 'picture');
  small.job.act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  small.job.act({ do: 'photo', path: picture });
  small.job.act({ do: 'note', text: 'the last word' });
  small.job.close();
  damage(small.dir);
  return { dir: small.dir, into: join(folder(), 'stick', 'job') };
}

function isLive(dir: string): boolean {
  try {
    Journal.open(dir, program().system).close();
    return true;
  } catch (error) {
    if (error instanceof JournalError) return false;
    throw error;
  }
}

const DAMAGES: readonly [string, (dir: string) => void, string, boolean][] = [
  ['is whole', () => undefined, 'open', true],
  [
    'was cut off in its last record',
    (dir) =>
      writeFileSync(join(dir, 'journal.jsonl'), readFileSync(join(dir, 'journal.jsonl')).subarray(0, -9)),
    'open',
    false,
  ],
  [
    'has a flipped bit in its shift',
    (dir) => {
      const path = join(dir, 'journal.jsonl');
      const text = readFileSync(path, 'utf8');
      writeFileSync(path, text.replace('meter 3', 'meter 4'));
    },
    'broken',
    false,
  ],
];

describe('carry-on, killed at any call', PATIENCE, () => {
  test.each(DAMAGES)(
    'of a job that %s: never two copies that take records, and the same again ends as if it had not been',
    async (_, damage, outcome, hasLast) => {
      let [none, old, fresh] = [0, 0, 0];
      const kills = await killEverywhere(
        () => scene(damage),
        (system, { dir, into }) => carryOnIn(dir, into, system),
        ({ dir, into }, at) => {
          const before = [...readHistoryGood(dir)].filter(({ proved }) => proved);
          const live = [dir, into].filter((one) => existsSync(one) && isLive(one));
          expect({ at, live: live.length }).toEqual({ at, live: Math.min(1, live.length) });
          if (live.length === 0) none += 1;
          else if (live[0] === dir) old += 1;
          else fresh += 1;
          carryOnIn(dir, into, program().system);
          expect({ at, live: [dir, into].map(isLive) }).toEqual({ at, live: [false, true] });
          const after = [...readHistory(into)].filter(({ proved }) => proved);
          for (const entry of before) expect(after[entry.n]?.sha256).toBe(entry.sha256);
          expect(after.some(({ says }) => says.includes('the last word'))).toBe(hasLast);
          if (hasLast) expect(readJob(into).nameOf('p1')).toBe('Ada Lovett');
          expect(readdirSync(join(into, 'attachments'))).toHaveLength(1);
          expect(readdirSync(dirname(into))).toEqual(['job']);
          expect(verifyJournal(into).outcome).toBe(outcome);
        },
      );
      expect(fresh).toBeGreaterThan(0);
      report('carry-on killed at every call', [
        { kills, 'old alone takes records': old, 'new alone': fresh, neither: none, both: 0 },
      ]);
    },
  );

  test('and then sent to another folder: the copy that nobody saw is given up', async () => {
    await killEverywhere(
      () => scene(),
      (system, { dir, into }) => carryOnIn(dir, into, system),
      ({ dir, into }) => {
        const elsewhere = join(folder(), 'other');
        if (existsSync(into)) {
          expect(() => carryOnIn(dir, elsewhere, program().system)).toThrow(`goes on in ${into}`);
          expect(existsSync(elsewhere)).toBe(false);
          return;
        }
        carryOnIn(dir, elsewhere, program().system);
        expect([dir, elsewhere].map(isLive)).toEqual([false, true]);
      },
      (calls) => Math.floor(calls.length / 2),
    );
  });
});

function* readHistoryGood(dir: string) {
  try {
    yield* readHistory(dir);
  } catch (error) {
    if (!(error instanceof JournalError)) throw error;
  }
}

describe('where a job goes on', () => {
  test('by its id the one is found that takes records', () => {
    const { dir } = scene();
    const shelf = dirname(dir);
    carryOnIn(dir, join(shelf, 'z-onward'), program().system);
    expect(findJob('small', () => shelf)).toBe(join(shelf, 'z-onward'));
  });

  test('twice from the same folder there is one copy; from elsewhere it is told where that is', () => {
    const { dir, into } = scene();
    const { records } = carryOnIn(dir, into, program().system);
    expect(carryOnIn(dir, into, program().system)).toEqual({ records, warnings: [] });
    expect(() => carryOnIn(dir, join(folder(), 'x'), program().system)).toThrow(
      `goes on in ${into}. Open it`,
    );
    rmSync(into, { recursive: true });
    expect(() => carryOnIn(dir, into, program().system)).toThrow('bring back the disk');
    expect(() => Job.open(dir, program().system, 'act')).toThrow('not there now');
  });

  test('a full disk there leaves nothing, and the same folder is taken once there is room', () => {
    const { dir, into } = scene();
    for (let room = 0; room < 30; room += 1) {
      const here = program();
      let writes = 0;
      const files = {
        ...here.system.files,
        write: (fd: number, from: Buffer, offset: number) => {
          writes += 1;
          if (writes > room) throw Object.assign(new Error('full'), { code: 'ENOSPC' });
          return realFiles.write(fd, from, offset);
        },
      };
      try {
        carryOnIn(dir, into, { ...here.system, files });
        break;
      } catch (error) {
        expect(error).toBeInstanceOf(JournalError);
        expect(existsSync(into)).toBe(false);
        expect(existsSync(dirname(into)) ? readdirSync(dirname(into)) : []).toEqual([]);
        expect(isLive(dir)).toBe(true);
      }
    }
    carryOnIn(dir, into, program().system);
    expect([dir, into].map(isLive)).toEqual([false, true]);
  });

  test.each(['EROFS', 'EIO', 'ENOSPC', 'EACCES'])(
    'a disk that takes nothing more (%s) hinders nobody from going on elsewhere, and it is said what was not marked',
    (code) => {
      const { dir, into } = scene();
      const here = program();
      const fail = () => {
        throw Object.assign(new Error(code), { code });
      };
      const guard =
        (name: 'open' | 'unlink' | 'rename' | 'mkdir' | 'link') =>
        (...given: unknown[]) => {
          const path = String(given[0]);
          const writes = name !== 'open' || !['read', 'folder'].includes(String(given[1]));
          if (writes && (path === dir || path.startsWith(`${dir}/`))) fail();
          return (realFiles[name] as (...all: unknown[]) => never)(...given);
        };
      const files = {
        ...realFiles,
        open: guard('open'),
        unlink: guard('unlink'),
        rename: guard('rename'),
        mkdir: guard('mkdir'),
        link: guard('link'),
      } as typeof realFiles;
      const { warnings } = carryOnIn(dir, into, { ...here.system, files });
      expect(warnings.join(' ')).toContain('could not be marked as continued');
      expect(readJob(into).nameOf('p1')).toBe('Ada Lovett');
      expect(isLive(into)).toBe(true);
      // The same again finds what is there.
      expect(carryOnIn(dir, into, { ...here.system, files }).records).toBeGreaterThan(0);
      expect(readdirSync(dirname(into))).toEqual(['job']);
    },
  );

  test('a photograph that cannot be read is left behind with a word, the rest goes on', () => {
    const { dir, into } = scene();
    const [name = ''] = readdirSync(join(dir, 'attachments'));
    chmodSync(join(dir, 'attachments', name), 0o000);
    const here = program();
    const files = {
      ...realFiles,
      open: (path: string, way: Parameters<typeof realFiles.open>[1]) => {
        if (path.startsWith(join(dir, 'attachments'))) throw Object.assign(new Error('EIO'), { code: 'EIO' });
        return realFiles.open(path, way);
      },
    };
    const { warnings } = carryOnIn(dir, into, { ...here.system, files });
    expect(warnings).toEqual([expect.stringContaining('cannot be read (EIO)')]);
    expect(isLive(into)).toBe(true);
  });

  test('damage in what the job stands on: no folder that no command opens, but a word of what to do', async () => {
    const { dir, into } = scene((at) => {
      const path = join(at, 'journal.jsonl');
      writeFileSync(path, readFileSync(path, 'utf8').replace('dc-adapter', 'ac-adapter'));
    });
    expect(await run(['carry-on', dir, '--job', into])).toMatchObject({
      code: 4,
      err: expect.stringContaining('Start the job again from its survey'),
    });
    expect(existsSync(into)).toBe(false);
  });

  test('a folder that holds something is not touched, nor one inside the job', async () => {
    const { dir } = scene();
    const full = folder();
    writeFileSync(join(full, 'letter.txt'), 'mine');
    expect(await run(['carry-on', dir, '--job', full])).toMatchObject({ code: 2 });
    expect(readdirSync(full)).toEqual(['letter.txt']);
    mkdirSync(join(dir, 'sub'));
    expect(await run(['carry-on', dir, '--job', join(dir, 'sub', 'x')])).toMatchObject({ code: 2 });
    expect(isLive(dir)).toBe(true);
  });
});
