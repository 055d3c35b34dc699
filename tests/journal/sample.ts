import { formatHead } from '../../source/journal/head.ts';
import { Journal } from '../../source/journal/journal.ts';
import { type VerifyOptions, verifyJournal } from '../../source/journal/verify.ts';
import { MemoryDisk } from './memory-disk.ts';
import { fakeSystem, fill } from './world.ts';

export const DIR = '/job';
export const PATH = '/job/journal.jsonl';

export type Sample = {
  readonly bytes: Buffer;
  readonly lines: readonly Buffer[];
  readonly head: string;
  readonly disk: MemoryDisk;
};

/** A journal of `count` records, `open` and (where it is sealed) `seal` among them. */
export function sample(count: number, sealed: boolean): Sample {
  const disk = new MemoryDisk();
  const journal = Journal.create(DIR, { job: 'hsc-7', rehearsal: null }, fakeSystem(disk));
  fill(journal, count - (sealed ? 2 : 1));
  if (sealed) journal.seal({});
  const head = formatHead(journal.head);
  journal.close();
  const bytes = Buffer.from(disk.bytes(PATH));
  return { bytes, lines: linesOf(bytes), head, disk };
}

export function linesOf(bytes: Buffer): Buffer[] {
  const lines: Buffer[] = [];
  for (let start = 0; start < bytes.length; ) {
    const end = bytes.indexOf(0x0a, start) + 1 || bytes.length;
    lines.push(bytes.subarray(start, end));
    start = end;
  }
  return lines;
}

/** A disk that holds these bytes as a journal, with nothing beside it but what says that it was not sealed to its end. */
export function diskWith(bytes: Buffer): MemoryDisk {
  const disk = new MemoryDisk();
  disk.mkdir(DIR);
  disk.put(PATH, bytes);
  // Room is kept back already, so that opening need not fill a reserve each time.
  disk.put(`${DIR}/.reserve`, Buffer.from('.'));
  disk.put(`${DIR}/.key`, Buffer.from('-'));
  return disk;
}

export function verdictOn(bytes: Buffer, options: VerifyOptions = {}) {
  return verifyJournal(DIR, { ...options, files: diskWith(bytes) });
}
