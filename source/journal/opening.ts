import { type ChainScan, scanChain } from './chain.ts';
import { type Moment, momentIn } from './clock.ts';
import { closeForWriting } from './continuation.ts';
import { diskError, JournalError } from './error.ts';
import { hasJobKey } from './job-key.ts';
import { readSaved } from './last-saved.ts';
import { Lock } from './lock.ts';
import { PartWriter } from './part-writer.ts';
import { type Part, partsIn } from './parts.ts';
import { FORMAT, type JournalRecord } from './record.ts';
import type { Standing } from './record-writer.ts';
import { cutTornEnd, isHeadless, saveLastAgain } from './recovery.ts';
import { freeReserve } from './reserve.ts';
import type { PartScan } from './scan.ts';
import { readSeal } from './seal-note.ts';
import type { JournalFiles, System } from './system.ts';

/** What a walk over a whole journal tells the program that is about to write to it. */
export type Walked = {
  readonly scan: ChainScan;
  /** Records that a signed seal beside it speaks of; 0 without one. */
  readonly sealedCount: number;
  readonly job: string;
  readonly standing: Standing;
  /** The ends cut off and kept of which a record tells. */
  readonly kept: ReadonlySet<string>;
};

/**
 * Reads a whole journal from its first record, checks its chain and hands each record to `replay`.
 *
 * @throws JournalError `missing`, `broken`
 */
export function walk(dir: string, system: System, replay?: (record: JournalRecord) => void): Walked {
  const { files } = system;
  const kept = new Set<string>();
  let job: string | null = null;
  let lastRecord: JournalRecord | null = null;
  let moment: Moment | null = null;
  const parts = withRecords(files, dir);
  const seal = readSeal(files, dir, parts);
  const sealedCount = seal.is === 'signed' ? seal.head.count : 0;
  const scan = scanChain(files, parts, { full: true, sealedCount }, ({ record }) => {
    if (record === null) return;
    verifyFormat(dir, record);
    job ??= String(record.data.job);
    lastRecord = record;
    moment = momentIn(record) ?? moment;
    if (record.kind === 'repair') kept.add(String(record.data.kept));
    replay?.(record);
  });
  if (job === null && scan.fault === null)
    throw new JournalError('missing', `${dir} holds a journal without a first record. Start the job again.`);
  return { scan, sealedCount, job: job ?? '', standing: { head: scan.head, lastRecord, moment }, kept };
}

/** What a later version wrote is read, and nothing is added that it might not understand. */
function verifyFormat(dir: string, { kind, data }: JournalRecord): void {
  if (kind !== 'open' || data.format === undefined || data.format === FORMAT) return;
  throw new JournalError(
    'newer',
    `${dir} is of format ${JSON.stringify(data.format)}, and this version writes ${FORMAT}. It can be read here; to work on it, use the version that wrote it.`,
  );
}

/** All parts but one at the end that never got its first record. */
function withRecords(files: JournalFiles, dir: string): readonly Part[] {
  const parts = partsIn(files, dir);
  const last = parts.at(-1);
  return parts.length > 1 && isHeadless(files, last!) ? parts.slice(0, -1) : parts;
}

/** @throws JournalError `broken` where there is nothing to go on from */
export function verifyGood(dir: string, { head }: ChainScan): void {
  if (head.count > 0) return;
  throw new JournalError('broken', `${dir} holds no good record to go on from. Start the job again.`);
}

/** Holds the lock while `use` runs, and on from there unless it fails. */
export function locked<T>(dir: string, system: System, use: (lock: Lock) => T): T {
  const lock = acquire(dir, system);
  try {
    return inFolder(dir, () => use(lock));
  } catch (error) {
    lock.release();
    throw error;
  }
}

/** On a full disk the room that is kept back serves whoever opens the job as well as whoever has it open. */
function acquire(dir: string, system: System): Lock {
  try {
    return Lock.acquire(dir, system);
  } catch (error) {
    const isFull = error instanceof JournalError && error.kind === 'disk-full';
    if (!isFull || !freeReserve(system.files, dir)) throw error;
    return Lock.acquire(dir, system);
  }
}

/** What fails in there comes out in the words of a person. */
export function inFolder<T>(dir: string, use: () => T): T {
  try {
    return use();
  } catch (error) {
    throw diskError(`${dir} cannot be used`, error);
  }
}

/** The part opened for writing, with everything in it that is good made durable and an unfinished end cut off. */
export function openWriter(dir: string, system: System, lock: Lock, part: Part, scan: PartScan): PartWriter {
  const { files } = system;
  const fd = openForWriting(files, part);
  const writer = new PartWriter(files, part, fd, scan.sizeBytes, () => lock.markUnsaved());
  if (scan.rest === 'torn') cutTornEnd(files, dir, writer, scan.goodBytes);
  else if (lock.isUnsaved) saveLastAgain(files, part, scan);
  else writer.sync();
  lock.clearUnsaved();
  return writer;
}

function openForWriting(files: JournalFiles, part: Part): number {
  const fd = files.open(part.path, 'append');
  const { mode } = files.stat(fd);
  if ((mode & 0o200) === 0) {
    files.close(fd);
    throw new JournalError(
      'io',
      `${part.path} is read-only, and nothing here names another folder that the job goes on in. If it was restored so, make it writable (chmod u+w FILE) and open it again; if it goes on elsewhere, open it there.`,
    );
  }
  if ((mode & 0o077) !== 0) files.chmod(fd, 0o600);
  return fd;
}

/**
 * Damage in a part that another took over is known and passed; at the end it forbids writing. So does an end that is
 * whole and too short: whoever went on would hide that something is missing.
 */
export function verifyEnd({ files }: System, dir: string, { scan: found, sealedCount }: Walked): void {
  const { part, scan } = found.parts.at(-1)!;
  const says = scan.rest === 'broken' ? damageAt(found) : shortness(files, dir, found, sealedCount);
  if (says === null) return;
  closeForWriting(files, part);
  throw new JournalError('broken', `${says} The file is kept as it is; go on in a continuation.`);
}

function damageAt({ head, parts }: ChainScan): string {
  const { part, scan } = parts.at(-1)!;
  return `Record ${head.count} of ${part.name} is damaged: ${scan.says} (byte ${scan.goodBytes}).`;
}

function shortness(
  files: JournalFiles,
  dir: string,
  { head, seal }: ChainScan,
  sealedCount: number,
): string | null {
  if (sealedCount > head.count)
    return `The seal beside this job speaks of ${sealedCount} records, and ${head.count} are here.`;
  const saved = readSaved(files, dir)?.count ?? 0;
  if (saved > head.count)
    return `${saved} records of this job were saved, and ${head.count} are here and good: record ${head.count} was damaged or cut off since.`;
  if (seal === null && !hasJobKey(files, dir))
    return 'This job is not sealed, and its key is gone as after a seal: its end was cut off, or hidden files were left behind when it was copied.';
  return null;
}
