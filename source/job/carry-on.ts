import { dirname, relative, resolve } from 'node:path';
import { abandonedIn, asideOf, removeFolder, takeName } from '../journal/aside.ts';
import { firstRecordOf } from '../journal/chain.ts';
import { closeForWriting } from '../journal/continuation.ts';
import { codeOf, diskError, JournalError } from '../journal/error.ts';
import { Journal } from '../journal/journal.ts';
import { type Part, partsIn } from '../journal/parts.ts';
import type { JournalFiles, System } from '../journal/system.ts';
import {
  isPartThere,
  markWentOn,
  movedError,
  readWentOn,
  unmarkWentOn,
  type WentOn,
} from '../journal/went-on.ts';
import { copyBeside } from './copy-beside.ts';
import { freeName, verifyFree } from './free-folder.ts';
import { Replay, takeKnown } from './replay.ts';

/** A job that goes on elsewhere: its records, and what has to be said of the way there. */
export type CarriedOn = { readonly records: number; readonly warnings: readonly string[] };

/**
 * Goes on with a job in another folder, after NOT SAVED or damage: every record that is good is copied there and
 * linked to, with names, draft and attachments. Damage is copied as it is and stays in the verdict: it is never mended.
 *
 * The copy is made aside; the old folder is marked, and takes no more records; only then the copy gets its name. So
 * there are never two that take records, and the same again after a kill comes to the same end.
 *
 * @param held the journal, by whoever has it open; that one is of no use afterwards and is to be closed
 * @throws JournalError `missing`, `locked`, `exists`, `sealed`, `moved`, `newer`, `broken` where nothing can go on from
 *   what is good, `disk-full`, `io`; then the old folder is as it was
 */
export function carryOnIn(dir: string, into: string, system: System, held?: Journal): CarriedOn {
  const [from, to] = [resolve(dir), resolve(into)];
  const inside = relative(from, to);
  if (inside === '' || !(inside.startsWith('..') || resolve(inside) === inside))
    throw new JournalError(
      'exists',
      `${into} is the job itself. Give a folder to go on in, best on another disk.`,
    );
  const replay = new Replay();
  const journal = held ?? Journal.takeAway(from, system, (record) => takeKnown(record, replay));
  try {
    const done = finish(from, to, system) ?? foundIn(to, journal, system);
    if (done !== null) return { records: done, warnings: [] };
    if (held === undefined) verifyWhole(replay, journal);
    return goOn(journal, from, to, system);
  } catch (error) {
    throw diskError(`${into} cannot be gone on in`, error);
  } finally {
    if (held === undefined) journal.close();
  }
}

/** What a program that was killed over it had left to do; null where all is to be done. */
function finish(from: string, to: string, system: System): number | null {
  const { files } = system;
  const wentOn = readWentOn(files, from);
  if (wentOn === null) return null;
  const isThere = isPartThere(files, wentOn.into, wentOn);
  if (isThere && wentOn.into === to) return countIn(to, wentOn.part, files);
  if (isThere) throw movedError(wentOn, true);
  if (!isPartThere(files, wentOn.aside, wentOn)) throw movedError(wentOn, false);
  if (wentOn.into === to) {
    freeName(to, files);
    takeName(files, wentOn.aside, to);
    return countIn(to, wentOn.part, files);
  }
  // It never got its name, so nobody has worked on it.
  unmarkWentOn(files, from);
  removeFolder(files, wentOn.aside);
  return null;
}

/** Where the old folder takes no mark, its continuation is told by what it goes on from. */
function foundIn(to: string, journal: Journal, { files }: System): number | null {
  const { digest } = journal.head;
  for (const part of partsOrNone(to, files)) {
    const first = firstRecordOf(files, part);
    const link = first?.data.continues as { sha256?: unknown } | undefined;
    if (first?.data.job === journal.job && link?.sha256 === digest) return first.n + 1;
  }
  return null;
}

/** Nothing can be worked on without what the job stands on. */
function verifyWhole(replay: Replay, { head }: Journal): void {
  try {
    if (replay.procedure.steps.length > 0) return;
  } catch {
    // Pieces of it are missing.
  }
  throw new JournalError(
    'broken',
    `Of this job ${head.count} records are good, and they end before its survey and steps are whole: nothing can go on from there. Start the job again from its survey.`,
  );
}

function goOn(journal: Journal, from: string, to: string, system: System): CarriedOn {
  const { files } = system;
  const key = `${from}\n${to}`;
  verifyFree(to, files);
  files.mkdir(dirname(to));
  for (const left of abandonedIn(dirname(to), 'carry-on', system, key)) removeFolder(files, left);
  const aside = asideOf(to, 'carry-on', key, system);
  removeFolder(files, aside);
  let wentOn: WentOn | null = null;
  try {
    files.mkdir(aside);
    const lost = copyBeside(from, aside, files);
    const { part, first } = journal.copyOnward(aside);
    wentOn = { into: to, aside, part, sha256: first.sha256 };
    const trouble = mark(from, wentOn, files);
    freeName(to, files);
    takeName(files, aside, to);
    for (const old of partsOrNone(from, files)) closeForWriting(files, old);
    return { records: first.n + 1, warnings: [...lost, ...trouble] };
  } catch (error) {
    // Once it has its name it is there, whatever failed after that.
    if (wentOn === null || !isPartThere(files, to, wentOn)) {
      if (wentOn !== null) unmarkWentOn(files, from);
      removeFolder(files, aside);
    }
    throw error;
  }
}

function mark(from: string, wentOn: WentOn, files: JournalFiles): string[] {
  try {
    markWentOn(files, from, wentOn);
    return [];
  } catch (error) {
    return [
      `${from} could not be marked as continued (${codeOf(error)}). Keep it, and do not work on in it: there would be two records of one job.`,
    ];
  }
}

function countIn(dir: string, part: string, files: JournalFiles): number {
  const found = partsOrNone(dir, files).find(({ name }) => name === part);
  return (found === undefined ? 0 : (firstRecordOf(files, found)?.n ?? 0)) + 1;
}

function partsOrNone(dir: string, files: JournalFiles): readonly Part[] {
  try {
    return partsIn(files, dir);
  } catch {
    return [];
  }
}
