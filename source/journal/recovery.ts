import { join } from 'node:path';
import { sha256 } from './digest.ts';
import { createFile, readFully, syncFolder, withFile } from './disk.ts';
import type { PartWriter } from './part-writer.ts';
import { nextTorn, type Part, partsIn, tornIn } from './parts.ts';
import { type PartScan, restOf } from './scan.ts';
import type { JournalFiles } from './system.ts';

/**
 * Puts a part aside that never got its first record, so that no record in it was ever acknowledged. Where any other
 * record stands in it, it is damaged, and stays.
 */
export function setAsideHeadless(files: JournalFiles, dir: string): void {
  const last = partsIn(files, dir).at(-1);
  if (last === undefined || !isHeadless(files, last)) return;
  files.rename(last.path, join(dir, nextTorn(files, dir, last)));
  syncFolder(files, dir);
}

/** Whether no record in a part was ever finished. */
export function isHeadless(files: JournalFiles, part: Part): boolean {
  return withFile(files, part.path, 'read', (fd) => restOf(files, fd, 0, files.stat(fd).size) !== 'broken');
}

/** Keeps the unfinished end of a part beside it, durably, and only then cuts it off. Safe to be cut short anywhere. */
export function cutTornEnd(files: JournalFiles, dir: string, writer: PartWriter, goodBytes: number): void {
  const end = withFile(files, writer.part.path, 'read', (fd) =>
    readFully(files, fd, goodBytes, writer.sizeBytes - goodBytes),
  );
  createFile(files, join(dir, nextTorn(files, dir, writer.part)), end);
  syncFolder(files, dir);
  writer.cut(goodBytes);
}

/**
 * Writes the last good record once more, over itself, and makes it durable. After a failed fsync it can be read and
 * may yet not be on the disk, and a second fsync alone would not bring it there.
 */
export function saveLastAgain(files: JournalFiles, part: Part, scan: PartScan): void {
  withFile(files, part.path, 'rewrite', (fd) => {
    const length = scan.goodBytes - scan.lastOffset;
    const bytes = readFully(files, fd, scan.lastOffset, length);
    for (let done = 0; done < length; ) done += files.overwrite(fd, bytes, done, scan.lastOffset + done);
    files.fsync(fd);
  });
}

/** What was cut off and kept, but stands in no record yet: a program may have died between the two. */
export function unrecordedRepairs(files: JournalFiles, dir: string, recorded: ReadonlySet<string>) {
  return tornIn(files, dir)
    .filter((name) => !recorded.has(name))
    .map((name) =>
      withFile(files, join(dir, name), 'read', (fd) => {
        const bytes = readFully(files, fd, 0, files.stat(fd).size);
        return { kept: name, dropped: bytes.length, sha256: sha256(bytes) };
      }),
    );
}
