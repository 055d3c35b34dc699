import { mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { attachFile, attachmentFault } from '../../source/job/attachments.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { createJob } from '../../source/job/create.ts';
import { readDraft, writeDraft } from '../../source/job/draft.ts';
import { Job } from '../../source/job/job.ts';
import { findJob, jobFolders } from '../../source/job/jobs.ts';
import { personId, readPrivate, writePrivate } from '../../source/job/private.ts';
import { readSiteFiles } from '../../source/job/site-files.ts';
import { realSystem } from '../../source/journal/system.ts';
import { folder } from './small-job.ts';

const umask = process.umask();
afterEach(() => void process.umask(umask));

describe('the folder of a job', () => {
  test.each([0o000, 0o022, 0o077])('is for its owner alone, under umask %o', (mask) => {
    process.umask(mask);
    const dir = join(folder(), 'job');
    const read = readSiteFiles(bundledFile(DEMO_SURVEY), []);
    if (!read.ok) throw new Error('The demo cannot be read.');
    const { surveyText, surveyFile, boardFiles } = read.site;
    const job = createJob({ surveyText, surveyFile, boards: boardFiles, dir, system: realSystem() });
    if (!(job instanceof Job)) throw new Error('The demo is blocked.');
    job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
    const picture = join(folder(), 'a.png');
    writeFileSync(picture, 'picture');
    job.act({ do: 'photo', path: picture });
    writeDraft(dir, { screen: 'step', about: 'x', answers: { a: '1' } });
    for (const entry of readdirSync(dir, { recursive: true, withFileTypes: true })) {
      const { mode } = statSync(join(entry.parentPath ?? entry.path, entry.name));
      expect([entry.name, (mode & 0o777).toString(8)]).toEqual([
        entry.name,
        entry.isDirectory() ? '700' : '600',
      ]);
    }
    expect(statSync(dir).mode & 0o777).toBe(0o700);
    job.close();
  });

  test('appears whole or not at all: nothing is left beside it', () => {
    const shelf = folder();
    const read = readSiteFiles(bundledFile(DEMO_SURVEY), []);
    if (!read.ok) throw new Error('The demo cannot be read.');
    const { surveyText, surveyFile, boardFiles: boards } = read.site;
    const full = {
      ...realSystem(),
      random: () => {
        throw new Error('no chance left');
      },
    };
    expect(() =>
      createJob({ surveyText, surveyFile, boards, dir: join(shelf, 'job'), system: full }),
    ).toThrow('no chance');
    expect(readdirSync(shelf)).toEqual([]);
  });
});

describe('what is kept beside the journal', () => {
  test('a link in the place of a file is replaced or passed over, never followed', () => {
    const dir = folder();
    const target = join(folder(), 'target.json');
    writeFileSync(target, '{"persons":{"p1":"Mallory"}}');
    symlinkSync(target, join(dir, 'private.json'));
    expect(readPrivate(dir).persons).toEqual({});
    writePrivate(dir, { persons: { p1: 'Ada' }, site: null });
    expect(readFileSync(target, 'utf8')).toContain('Mallory');
    expect(readPrivate(dir).persons).toEqual({ p1: 'Ada' });
    symlinkSync(folder(), join(dir, 'attachments'));
    const picture = join(folder(), 'a.png');
    writeFileSync(picture, 'picture');
    expect(attachFile(dir, picture)).toMatchObject({ ok: false });
  });

  test.each(['', '{', '[]', '"x"', '{"persons": 3}', '{"persons": {"p1": 5}, "site": "x"}', '\0\0'])(
    'damage costs names and drafts, no work: %j',
    (text) => {
      const dir = folder();
      for (const name of ['private.json', 'draft.json']) writeFileSync(join(dir, name), text);
      expect(readPrivate(dir)).toEqual({ persons: {}, site: null });
      expect(readDraft(dir)).toBeNull();
    },
  );

  test('a draft is read as it was written, and forgotten', () => {
    const dir = folder();
    const draft = { screen: 'step', about: 'measure.z1', answers: { rest: '2.2 k' } };
    writeDraft(dir, draft);
    expect(readDraft(dir)).toEqual(draft);
    writeDraft(dir, null);
    expect(readDraft(dir)).toBeNull();
  });

  test('a person is known by id, and by name in any capitals', () => {
    const known = { persons: { p1: 'Ada Lovett' }, site: null };
    expect([personId(known, 'p1'), personId(known, 'ada lovett'), personId(known, 'Ada')]).toEqual([
      'p1',
      'p1',
      null,
    ]);
    expect(personId(known, '__proto__')).toBeNull();
  });

  test('what can be attached is a file, and it is told from an altered, lost or foreign one', () => {
    const dir = folder();
    const file = join(folder(), 'Closet, seen by Ada.JPEG');
    writeFileSync(file, 'a picture');
    const attached = attachFile(dir, file);
    if (!attached.ok) throw new Error(attached.says);
    const { attachment } = attached;
    expect(attachFile(dir, file)).toEqual(attached);
    expect(readdirSync(join(dir, 'attachments'))).toHaveLength(1);
    expect(attachmentFault(dir, attachment)).toBeNull();
    expect(attachmentFault(dir, { ...attachment, bytes: 8 })).toContain('size');
    expect(attachmentFault(dir, { ...attachment, sha256: '0' })).toContain('altered');
    expect(attachmentFault(dir, { ...attachment, path: 'attachments/none' })).toContain('missing');
    expect(attachmentFault(dir, { ...attachment, path: '../private.json' })).toContain('no attachment');
    expect(attachFile(dir, folder())).toMatchObject({ ok: false });
    expect(attachFile(dir, '/dev/null')).toMatchObject({ ok: false });
  });

  test('jobs are found by folder and by id, and what is no job is not', () => {
    const shelf = folder();
    mkdirSync(join(shelf, 'empty'));
    mkdirSync(join(shelf, 'damaged'));
    writeFileSync(join(shelf, 'damaged', 'journal.jsonl'), 'noise');
    const asked: string[] = [];
    const on = () => {
      asked.push(shelf);
      return shelf;
    };
    expect(jobFolders(shelf)).toEqual([join(shelf, 'damaged')]);
    expect(findJob(join(shelf, 'damaged'), on)).toBe(join(shelf, 'damaged'));
    expect(asked).toEqual([]);
    expect(findJob('damaged', on)).toBe(join(shelf, 'damaged'));
    expect(findJob('empty', on)).toBeNull();
    expect(findJob('../empty', on)).toBeNull();
  });
});
