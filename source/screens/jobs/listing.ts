import { basename } from 'node:path';
import { pageOfJobs } from '../../job/job-list.ts';
import type { JobFolder } from '../../job/jobs.ts';
import { readJob } from '../../job/read-job.ts';
import { codeOf, JournalError } from '../../journal/error.ts';
import type { JobRow, JobsPage, JobsWanted } from '../port.ts';
import { localTime } from '../times.ts';
import { STAGE_WORDS, SUPPLY_WORDS } from '../words.ts';

/** Jobs on a page: as many as leave the last three of nine keys for more of them, for finding one, and for everything else. */
export const JOBS_A_PAGE = 6;

/** A page of the jobs of a folder; only the jobs on it are read. */
export function listJobs(folder: string, { page, find }: JobsWanted): JobsPage {
  const { folders, ...counts } = pageOfJobs(folder, find, page, JOBS_A_PAGE);
  return { ...counts, find, rows: folders.map(rowOf) };
}

// Whatever is wrong with one job is said in its row: the others are listed all the same.
function rowOf(folder: JobFolder): JobRow {
  if (folder.trouble !== null) return unreadable(folder.dir, folder.trouble);
  try {
    return readRow(folder.dir);
  } catch (error) {
    return unreadable(folder.dir, saysOf(error));
  }
}

function readRow(dir: string): JobRow {
  const job = readJob(dir);
  const next = job.next();
  const last = localTime(job.lastRecord?.at ?? '');
  const supply = next.supply === 'dead' ? SUPPLY_WORDS.unproven : SUPPLY_WORDS[next.supply];
  return {
    id: job.id,
    dir,
    site: job.known.site?.name || job.id,
    place: job.known.site?.address ?? '',
    day: last.slice(0, 10),
    rehearsal: job.rehearsal !== null,
    state: next.closed ? 'closed' : 'open',
    stage: STAGE_WORDS[next.stage],
    done: next.done,
    total: next.total,
    supply: supply.short.toLowerCase(),
    last,
  };
}

function unreadable(dir: string, says: string): JobRow {
  const none = { place: '', day: '', stage: '', done: 0, total: 0, supply: '', rehearsal: false };
  return { ...none, id: dir, dir, site: basename(dir), state: 'unreadable', last: says };
}

function saysOf(error: unknown): string {
  if (error instanceof JournalError) return error.message;
  const code = codeOf(error);
  return code === ''
    ? 'Its record makes no sense to this version of the program. loopward verify tells whether it is whole.'
    : `It cannot be read (${code}). Look at the disk and at who may read it.`;
}
