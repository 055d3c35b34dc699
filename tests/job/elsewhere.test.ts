import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { foldersElsewhere } from '../../source/job/elsewhere.ts';
import { folder } from './small-job.ts';

const jobs = folder();
const dir = join(jobs, 'hsc-7');
mkdirSync(dir);

/** Disks as a test has them: the jobs lie on disk 1. */
function disks(on: Readonly<Record<string, number | null>>) {
  return {
    places: Object.keys(on),
    diskOf: (place: string) => on[place] ?? null,
    diskAt: (place: string) => (place === jobs ? 1 : (on[place] ?? null)),
  };
}

test('a folder on another disk is offered first, one that cannot be written to never', () => {
  const on = disks({ '/home/ada': 1, '/media/ada/locked': null, '/media/ada/stick': 2 });
  expect(foldersElsewhere(dir, on)).toEqual(['/media/ada/stick/hsc-7', '/home/ada/hsc-7', `${dir}-2`]);
});

test('where there is but one disk, a folder that is not there yet', () => {
  expect(foldersElsewhere(dir, disks({ [jobs]: 1 }))).toEqual([`${dir}-2`]);
});
