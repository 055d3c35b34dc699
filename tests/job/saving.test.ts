import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { Job } from '../../source/job/job.ts';
import { readJob } from '../../source/job/read-job.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { JournalError } from '../../source/journal/error.ts';
import { realFiles } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { folder, smallJob } from './small-job.ts';

const shift = { do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' };
const stateBytes = (job: { state: unknown }) => canonicalJson(job.state as Json);

/** A small job on a disk that fails one call for as long as `failing` holds its code. */
function onFailingDisk(call: 'fsync' | 'write') {
  const small = smallJob();
  small.job.close();
  const disk = { failing: '' };
  const fail = (): void => {
    if (disk.failing) throw Object.assign(new Error(disk.failing), { code: disk.failing });
  };
  const files = {
    ...realFiles,
    [call]: (...given: never[]) => {
      fail();
      return (realFiles[call] as (...all: never[]) => never)(...given);
    },
  };
  const job = Job.open(small.dir, { ...small.system, files }, 'act');
  return { job, disk, dir: small.dir };
}

describe('what cannot be saved', () => {
  test('a full disk takes nothing into force; the same action passes once there is space', () => {
    const { job, disk, dir } = onFailingDisk('write');
    job.act(shift);
    const before = [stateBytes(job), [...readHistory(dir)].length];
    disk.failing = 'ENOSPC';
    expect(() => job.act({ do: 'doubt' })).toThrow(JournalError);
    expect([stateBytes(job), [...readHistory(dir)].length]).toEqual(before);
    disk.failing = '';
    expect(job.act({ do: 'doubt' })).toMatchObject({ outcome: 'recorded' });
    expect(verifyJournal(dir).outcome).toBe('open');
    job.close();
  });

  test('after NOT SAVED the job goes on in another place, with names and files, and no record lost', () => {
    const { job, disk, dir } = onFailingDisk('fsync');
    job.act(shift);
    const picture = join(folder(), 'a.png');
    writeFileSync(picture, 'picture');
    job.act({ do: 'photo', path: picture });
    const saved = [...readHistory(dir)].length;
    disk.failing = 'EIO';
    expect(() => job.act({ do: 'note', text: 'lost?' })).toThrow(/NOT SAVED/);
    expect(() => job.act({ do: 'note', text: 'again' })).toThrow(/NOT SAVED/);
    disk.failing = '';
    const elsewhere = join(folder(), 'job');
    const onward = job.continueIn(elsewhere);
    expect(onward.act({ do: 'note', text: 'lost? no: said again' })).toMatchObject({ outcome: 'recorded' });
    expect(onward.nameOf('p1')).toBe('Ada Lovett');
    const entries = [...readHistory(elsewhere)];
    expect(entries.slice(0, saved).map((entry) => entry.sha256)).toEqual(
      [...readHistory(dir)].slice(0, saved).map((entry) => entry.sha256),
    );
    const attached = entries.find((entry) => entry.kind === 'photo');
    expect(readFileSync(join(elsewhere, String(attached?.data.path)), 'utf8')).toBe('picture');
    expect(verifyJournal(elsewhere).outcome).toBe('open');
    expect(stateBytes(readJob(elsewhere))).toBe(stateBytes(onward));
    onward.close();
  });
});
