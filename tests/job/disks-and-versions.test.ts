import { chmodSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { carryOnIn } from '../../source/job/carry-on.ts';
import { Job } from '../../source/job/job.ts';
import { readPrivate } from '../../source/job/private.ts';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { Lock } from '../../source/journal/lock.ts';
import { formatRecord, type JournalRecord } from '../../source/journal/record.ts';
import { type JournalFiles, realFiles, type System } from '../../source/journal/system.ts';
import { program } from '../commands/killed-calls.ts';
import { run } from '../commands/run.ts';
import { folder, smallJob } from './small-job.ts';

const shift = (name: string) => ({ do: 'start-shift', name, instrument: 'meter 3' });
const fresh = () => {
  const small = smallJob();
  small.job.act(shift('Ada Lovett'));
  small.job.close();
  return small.dir;
};

/** A disk of so many bytes: what is deleted or cut comes free again. */
function fullDisk(dir: string): JournalFiles {
  let free = 0;
  const paths = new Map<number, string>();
  const sizes = new Map<string, number>();
  const refuse = () => {
    throw Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' });
  };
  return {
    ...realFiles,
    open: (path, way) => {
      const fd = realFiles.open(path, way);
      paths.set(fd, path);
      return fd;
    },
    write: (fd, from, offset) => {
      const wanted = from.length - offset;
      if (wanted > free) refuse();
      free -= wanted;
      const path = paths.get(fd) ?? '';
      sizes.set(path, (sizes.get(path) ?? 0) + wanted);
      return realFiles.write(fd, from, offset);
    },
    unlink: (path) => {
      realFiles.unlink(path);
      free += path === join(dir, '.reserve') ? 256 * 1024 : (sizes.get(path) ?? 0);
      sizes.delete(path);
    },
  };
}

describe('a disk that is full before the program is opened', () => {
  test('opens, takes a new person and their work, and gives up the room kept back', () => {
    const dir = fresh();
    expect(readdirSync(dir)).toContain('.reserve');
    const { system } = program();
    const job = Job.open(dir, { ...system, files: fullDisk(dir) }, 'act');
    expect(job.act(shift('Bo Marsh'))).toMatchObject({ outcome: 'recorded' });
    expect(job.act({ do: 'note', text: 'recorded on a full disk' })).toMatchObject({ outcome: 'recorded' });
    job.close();
    expect(Object.values(readPrivate(dir).persons)).toEqual(['Ada Lovett', 'Bo Marsh']);
  });

  test('a disk that fills while the job is open: a new person too gives up the reserve', () => {
    const dir = fresh();
    const { system } = program();
    const disk = fullDisk(dir);
    let isFull = false;
    const write: JournalFiles['write'] = (fd, from, offset) =>
      (isFull ? disk : realFiles).write(fd, from, offset);
    const job = Job.open(dir, { ...system, files: { ...disk, write } }, 'act');
    isFull = true;
    expect(job.act(shift('Bo Marsh'))).toMatchObject({ outcome: 'recorded' });
    job.close();
    const kinds = readFileSync(join(dir, 'journal.jsonl'), 'utf8');
    expect(kinds).toContain('"kind":"disk-full"');
  });

  test('with nothing kept back any more it is refused in words, and nothing of it is in force', () => {
    const dir = fresh();
    const { system } = program();
    const disk = fullDisk(dir);
    let isFull = false;
    const write: JournalFiles['write'] = (fd, from, offset) =>
      (isFull ? disk : realFiles).write(fd, from, offset);
    const job = Job.open(dir, { ...system, files: { ...disk, write } }, 'act');
    rmSync(join(dir, '.reserve'));
    isFull = true;
    expect(() => job.act(shift('Bo Marsh'))).toThrow(JournalError);
    isFull = false;
    expect(job.act(shift('Bo Marsh'))).toMatchObject({ outcome: 'recorded' });
    job.close();
  });
});

describe('a job that was restored read-only', () => {
  test('says so, and what to do; nothing is told of another folder', async () => {
    const dir = fresh();
    chmodSync(join(dir, 'journal.jsonl'), 0o400);
    const { code, err } = await run(['act', dir, '{"do":"note","text":"x"}']);
    expect(code).toBe(3);
    expect(err).toMatch(/is read-only, .* make it writable \(chmod u\+w FILE\)/);
    chmodSync(join(dir, 'journal.jsonl'), 0o600);
    expect(await run(['act', dir, '{"do":"note","text":"x"}'])).toMatchObject({ code: 0 });
  });
});

/** The records of a job, one of them as another version would have written it; the chain fits. */
function rewritten(dir: string, change: (record: JournalRecord) => Partial<JournalRecord>): void {
  const path = join(dir, 'journal.jsonl');
  let prev = '0'.repeat(64);
  const lines = readFileSync(path, 'utf8').trimEnd().split('\n');
  const bytes = lines.map((line) => {
    const { sha256: _, ...was } = JSON.parse(line) as JournalRecord;
    const made = formatRecord({ ...was, ...change(was as JournalRecord), prev });
    prev = made.record.sha256;
    return made.bytes;
  });
  rmSync(join(dir, '.saved'), { force: true });
  writeFileSync(path, Buffer.concat(bytes));
}

describe('what a later version wrote', () => {
  const LATER: readonly [string, (record: JournalRecord) => Partial<JournalRecord>, RegExp][] = [
    [
      'another format',
      ({ kind, data }) => (kind === 'open' ? { data: { ...data, format: 'loopward/journal@2' } } : {}),
      /format "loopward\/journal@2"/,
    ],
    [
      'a kind of record that is not known',
      ({ kind, data }) => (data.do === 'start-shift' && kind === 'act' ? { kind: 'hearing' } : {}),
      /the kind "hearing"/,
    ],
  ];

  test.each(LATER)('%s: read and shown, and not a byte is written', async (_, change, says) => {
    const dir = fresh();
    rewritten(dir, change);
    const before = readFileSync(join(dir, 'journal.jsonl'));
    for (const command of ['act', 'carry-on']) {
      const ran = await run(
        command === 'act'
          ? ['act', dir, '{"do":"note","text":"x"}']
          : ['carry-on', dir, '--job', join(folder(), 'x')],
      );
      expect(ran).toMatchObject({ code: 3, out: '', err: expect.stringMatching(says) });
      expect(ran.err).toContain('use the version that wrote it');
    }
    expect(readFileSync(join(dir, 'journal.jsonl')).equals(before)).toBe(true);
    expect(readdirSync(dir)).not.toContain('continued.json');
    expect(await run(['verify', dir])).toMatchObject({ code: 0 });
    expect((await run(['history', dir])).code).toBe(0);
    const next = await run(['next', dir, '--json']);
    expect((next.json as { warnings: string[] }).warnings.join(' ')).toMatch(
      /A later version wrote in this job/,
    );
  });

  test('is shown as what it is', async () => {
    const dir = fresh();
    rewritten(dir, LATER[1]![1]);
    expect((await run(['history', dir])).out).toContain('Of a kind that this version does not know: hearing');
  });
});

describe('computers on one share', () => {
  const laptop = (more: Partial<System>): System => {
    const { system } = program();
    return { ...system, processStart: (pid) => (pid === system.pid ? 'alive' : null), ...more };
  };
  const one = { host: 'laptop', machine: 'aaaa', bootId: () => 'boot-a' };
  const two = { host: 'laptop', machine: 'bbbb', bootId: () => 'boot-b' };

  test('two of one name: neither takes the lock that the other holds', () => {
    const dir = fresh();
    const job = Job.open(dir, laptop(one), 'act');
    expect(() => Journal.open(dir, laptop(two))).toThrow('another computer of the name laptop');
    expect(() => carryOnIn(dir, join(folder(), 'x'), laptop(two))).toThrow('being written by');
    expect(job.act({ do: 'note', text: 'mine' })).toMatchObject({ outcome: 'recorded' });
    job.close();
    Journal.open(dir, laptop(two)).close();
  });

  test('one that was given another name after a crash opens its job', () => {
    const dir = fresh();
    Lock.acquire(dir, laptop(one));
    const renamed = laptop({ ...one, host: 'bench-laptop' });
    expect(() => Journal.open(dir, renamed).close()).not.toThrow();
  });

  test('one that was started again opens its job', () => {
    const dir = fresh();
    Lock.acquire(dir, laptop(one));
    expect(() => Journal.open(dir, laptop({ ...one, bootId: () => 'boot-c' })).close()).not.toThrow();
  });

  test('a lock of a version before is judged by the name, as that version did', () => {
    const dir = fresh();
    const locks = join(dir, 'locks');
    const next =
      Math.max(
        ...readdirSync(locks)
          .map(Number)
          .filter((n) => n > 0),
      ) + 1;
    writeFileSync(join(locks, String(next)), '{"boot":"boot-x","host":"laptop","pid":1,"start":"1"}');
    expect(() => Journal.open(dir, laptop({ ...two, host: 'office' }))).toThrow('a program on laptop');
    expect(() => Journal.open(dir, laptop(two)).close()).not.toThrow();
  });
});

describe('act - after NOT SAVED', () => {
  test('answers the line that was not saved, and ends without waiting for more', async () => {
    const dir = fresh();
    const { system } = program();
    let isFailing = false;
    const files: JournalFiles = {
      ...system.files,
      fsync: (fd) => {
        if (isFailing) throw Object.assign(new Error('EIO'), { code: 'EIO' });
        realFiles.fsync(fd);
      },
      write: (fd, from, offset) => {
        if (from.toString().includes('lost?')) isFailing = true;
        return realFiles.write(fd, from, offset);
      },
    };
    const input = ['saved', 'lost?', 'never asked']
      .map((text) => JSON.stringify({ do: 'note', text }))
      .join('\n');
    const { code, out, err } = await run(['act', dir, '-'], { input, system: { ...system, files } });
    expect(code).toBe(3);
    const answers = out.split('\n').map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(answers).toHaveLength(2);
    expect(answers[0]).toMatchObject({ outcome: 'recorded' });
    expect(answers[1]).toMatchObject({ kind: 'not-saved', notSaved: expect.stringContaining('NOT SAVED') });
    expect(err).toContain('loopward carry-on JOB --job FOLDER');
  });
});
