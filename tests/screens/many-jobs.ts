import { execFileSync } from 'node:child_process';
import { linkSync, mkdirSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What may have happened to the folder of a job, by what its row must then say. */
export const SPOILED: Readonly<Record<string, (dir: string) => void>> = {
  'a pipe': (dir) => {
    execFileSync('mkfifo', [join(dir, 'journal.jsonl')]);
  },
  'a link': (dir) => symlinkSync('/nowhere/journal.jsonl', join(dir, 'journal.jsonl')),
  'a folder': (dir) => mkdirSync(join(dir, 'journal.jsonl')),
  'holds no record': (dir) => writeFileSync(join(dir, 'journal.jsonl'), ''),
  'was cut off': (dir) => writeFileSync(join(dir, 'journal.jsonl'), '{"n":0}\n{"n":1}\n'),
  'private.json is': (dir) => {
    writeFileSync(join(dir, 'journal.jsonl'), 'noise\n');
    execFileSync('mkfifo', [join(dir, 'private.json')]);
  },
};

/**
 * So many jobs in a folder, the records of all of them one file on the disk: every tenth open, the others sealed, so many
 * spoiled in between; and what is left of one that was being made.
 *
 * @param like a job's folder
 */
export function makeJobs(folder: string, like: string, count: number, spoiled: number): void {
  for (let number = 1; number <= count; number++) {
    const dir = join(folder, `2026-01-${String(number).padStart(5, '0')}`);
    mkdirSync(dir, { recursive: true });
    const turn = spoiled === 0 ? 0.5 : number / Math.floor(count / spoiled);
    if (Number.isInteger(turn)) {
      Object.values(SPOILED)[turn % Object.keys(SPOILED).length]!(dir);
      continue;
    }
    linkSync(join(like, 'journal.jsonl'), join(dir, 'journal.jsonl'));
    const site = { name: `Boat house ${number}`, reference: '', address: `Quay ${number % 97}` };
    writeFileSync(join(dir, 'private.json'), JSON.stringify({ persons: {}, site }));
    if (number % 10 !== 0) writeFileSync(join(dir, 'seal.txt'), '');
  }
  const half = join(folder, '.start-0a1b2c3d-0a1b2c3d-4711-0a1b2c3d.making');
  mkdirSync(half, { recursive: true });
  writeFileSync(join(half, 'journal.jsonl'), '');
  // The spoiled ones were written before: what is good comes first, and has to be read.
  const later = new Date(Date.now() + 60_000);
  utimesSync(join(like, 'journal.jsonl'), later, later);
}
