import { join } from 'node:path';
import { firstRecordOf } from './chain.ts';
import { createFile, deleteFile, readText, syncFolder } from './disk.ts';
import { codeOf, JournalError } from './error.ts';
import type { JournalFiles } from './system.ts';

/** Where a journal goes on. Left in the folder that it goes on from, so that no second copy is ever worked on. */
export type WentOn = {
  readonly into: string;
  /** Where it was made before it took its name; there still, if the program was killed between the two. */
  readonly aside: string;
  /** The part it goes on in, and the digest of the first record there. */
  readonly part: string;
  readonly sha256: string;
};

const FILE = 'continued.json';

/** @throws JournalError `moved` where the mark is there and cannot be understood: then nobody may write here */
export function readWentOn(files: JournalFiles, dir: string): WentOn | null {
  let text: string;
  try {
    text = readText(files, join(dir, FILE));
  } catch (error) {
    if (['ENOENT', 'ENOTDIR'].includes(codeOf(error))) return null;
    throw error;
  }
  try {
    const held = JSON.parse(text) as Partial<Record<keyof WentOn, unknown>>;
    const [into, aside, part, sha256] = [held.into, held.aside, held.part, held.sha256].map(String);
    if ([into, aside, part, sha256].some((one) => one === 'undefined')) throw new SyntaxError();
    return { into: into!, aside: aside!, part: part!, sha256: sha256! };
  } catch {
    throw new JournalError(
      'moved',
      `This job goes on in another folder; ${join(dir, FILE)} is damaged and no longer tells in which. Look for it before working on here.`,
    );
  }
}

/** Leaves the mark in the folder that a journal goes on from: whole, or not at all. */
export function markWentOn(files: JournalFiles, dir: string, wentOn: WentOn): void {
  const draft = join(dir, `.${FILE}`);
  deleteFile(files, draft);
  createFile(files, draft, Buffer.from(`${JSON.stringify(wentOn, null, 2)}\n`));
  files.rename(draft, join(dir, FILE));
  syncFolder(files, dir);
}

/** Takes the mark away again, where the journal did not go on after all. */
export function unmarkWentOn(files: JournalFiles, dir: string): void {
  if (deleteFile(files, join(dir, FILE))) syncFolder(files, dir);
}

/** That a journal is not to be written to, for it goes on elsewhere. */
export function movedError({ into }: WentOn, isThere: boolean): JournalError {
  const way = isThere
    ? 'Open it there.'
    : `That folder is not there now: bring back the disk that holds it. If it is gone for good, delete ${FILE} in this one; what was recorded there is then lost.`;
  return new JournalError('moved', `This job goes on in ${into}. ${way}`);
}

/** Whether a folder holds the part that the journal goes on in. */
export function isPartThere(files: JournalFiles, folder: string, { part, sha256 }: WentOn): boolean {
  try {
    return firstRecordOf(files, { number: 1, name: part, path: join(folder, part) })?.sha256 === sha256;
  } catch {
    return false;
  }
}
