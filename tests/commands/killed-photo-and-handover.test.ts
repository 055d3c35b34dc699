import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { readHistory } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { JournalError } from '../../source/journal/error.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { folder, smallJob } from '../job/small-job.ts';
import { SMALL } from '../procedure/small-procedure.ts';
import { report } from '../scale.ts';
import { killEverywhere, program } from './killed-calls.ts';
import { run } from './run.ts';

const PATIENCE = { timeout: 300_000 };
const picture = join(folder(), 'a.png');
writeFileSync(picture, 'a picture '.repeat(400_000));

function photograph(dir: string, system: Parameters<typeof Job.open>[1]): void {
  const job = Job.open(dir, system, 'act');
  try {
    job.act({ do: 'photo', path: picture });
  } finally {
    job.close();
  }
}

function fresh(): string {
  const small = smallJob();
  small.job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
  small.job.close();
  return small.dir;
}

describe('a photograph', PATIENCE, () => {
  test('killed at any call and taken again: one file, one record, nothing half', async () => {
    let halves = 0;
    const kills = await killEverywhere(
      fresh,
      (system, dir) => photograph(dir, system),
      (dir, at) => {
        const held = existsSync(join(dir, 'attachments')) ? readdirSync(join(dir, 'attachments')) : [];
        if (held.includes('new')) halves += 1;
        photograph(dir, program().system);
        const files = readdirSync(join(dir, 'attachments'));
        const photos = [...readHistory(dir)].filter(({ kind }) => kind === 'photo');
        expect({ at, files: files.length, photos: photos.length }).toEqual({ at, files: 1, photos: 1 });
        expect(photos[0]?.data.path).toBe(`attachments/${files[0]}`);
        expect(readFileSync(join(dir, 'attachments', files[0]!), 'utf8')).toBe(readFileSync(picture, 'utf8'));
        expect(verifyJournal(dir).outcome).toBe('open');
      },
    );
    expect(halves).toBeGreaterThan(0);
    report('a photograph killed at every call', [{ kills, halves, lost: 0 }]);
  });

  test('on a full disk it is refused in words, and leaves no half', () => {
    const dir = fresh();
    const { system } = program();
    const job = Job.open(
      dir,
      {
        ...system,
        files: {
          ...system.files,
          write: (fd, from, offset) => {
            if (from.length > 100_000) throw Object.assign(new Error('full'), { code: 'ENOSPC' });
            return system.files.write(fd, from, offset);
          },
        },
      },
      'act',
    );
    expect(() => job.act({ do: 'photo', path: picture })).toThrow(JournalError);
    expect(() => job.act({ do: 'photo', path: picture })).toThrow('The disk is full. Free some space.');
    expect(readdirSync(join(dir, 'attachments'))).toEqual([]);
    job.close();
  });

  test('the same picture at another step, or once more after something else, is recorded', () => {
    const dir = fresh();
    const { system } = program();
    const job = Job.open(dir, system, 'act');
    // The first also begins the sitting.
    const [first, again] = [1, 2].map(() => job.act({ do: 'photo', path: picture }));
    expect([first, again].map((acted) => 'records' in acted! && acted.records.length)).toEqual([2, 0]);
    expect(job.act({ do: 'photo', path: picture, step: SMALL.steps[0]!.id })).toMatchObject({
      records: [expect.any(Number)],
    });
    job.act({ do: 'note', text: 'between' });
    expect(job.act({ do: 'photo', path: picture })).toMatchObject({ records: [expect.any(Number)] });
    job.close();
  });
});

describe('the documents', PATIENCE, () => {
  const dir = join(folder(), 'demo');
  beforeAll(async () => {
    await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { env: { LOOPWARD_HOME: folder() } });
  });

  test('killed at any call: the folder is there whole or not at all, and the same again makes it', async () => {
    let names: string[] = [];
    const kills = await killEverywhere(
      () => join(folder(), 'out'),
      async (system, out) => {
        await run(['handover', dir, '--out', out], { system });
      },
      async (out, at) => {
        if (existsSync(out)) names = readdirSync(out);
        expect(await run(['handover', dir, '--out', out], { system: program().system })).toMatchObject({
          code: 0,
        });
        expect({ at, beside: readdirSync(join(out, '..')) }).toEqual({ at, beside: ['out'] });
        names = names.length > 0 ? names : readdirSync(out);
        expect(readdirSync(out)).toEqual(names);
        for (const name of names) expect(statSync(join(out, name)).size).toBeGreaterThan(50);
      },
      // The folder alone: what comes before it reads the job.
      (calls) => calls.lastIndexOf('mkdir') - 3,
    );
    expect(kills).toBeGreaterThan(10);
    report('documents killed at every call', [{ kills, 'half a document': 0 }]);
  });

  test('in a folder that is there each is replaced as a whole, and a link there is not followed', async () => {
    const out = folder();
    const letter = join(folder(), 'letter.txt');
    writeFileSync(letter, 'mine');
    symlinkSync(letter, join(out, 'handover.txt'));
    mkdirSync(join(out, 'kept'));
    expect(await run(['handover', dir, '--out', out])).toMatchObject({ code: 0 });
    expect(readFileSync(letter, 'utf8')).toBe('mine');
    expect(readFileSync(join(out, 'handover.txt'), 'utf8')).toContain('HOW TO VERIFY THIS RECORD');
    expect(readdirSync(out)).toContain('kept');
    for (const name of readdirSync(out).filter((one) => one !== 'kept'))
      expect(statSync(join(out, name)).mode & 0o777).toBe(0o600);
  });

  test.each([
    ['handover', dir, '--out', ''],
    ['start', bundledFile(DEMO_SURVEY), '--job', ''],
    ['carry-on', dir, '--job', ''],
    ['labels', bundledFile(DEMO_SURVEY), '--out', ''],
  ])('%s %s %s with no folder at all writes nothing where one happens to stand', async (...argv) => {
    const before = readdirSync('.');
    expect(await run(argv)).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('No folder is given'),
    });
    expect(readdirSync('.')).toEqual(before);
  });
});
