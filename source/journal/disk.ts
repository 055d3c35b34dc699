import { codeOf, JournalError } from './error.ts';
import type { JournalFiles, Way } from './system.ts';

/**
 * Opens a file, hands it to `use` and closes it whatever happens.
 *
 * @throws what the system does
 */
export function withFile<T>(files: JournalFiles, path: string, way: Way, use: (fd: number) => T): T {
  const fd = files.open(path, way);
  try {
    return use(fd);
  } finally {
    files.close(fd);
  }
}

/** Reads to the length asked for, or to the end of the file if that comes first. */
export function readFully(files: JournalFiles, fd: number, from: number, length: number): Buffer {
  const buffer = Buffer.alloc(length);
  for (let done = 0; done < length; ) {
    const count = files.read(fd, buffer, done, length - done, from + done);
    if (count === 0) return buffer.subarray(0, done);
    done += count;
  }
  return buffer;
}

/**
 * The whole of a file as UTF-8.
 *
 * @throws what the system does, `ENOENT` where there is none
 */
export function readText(files: JournalFiles, path: string): string {
  return withFile(files, path, 'read', (fd) => readFully(files, fd, 0, files.stat(fd).size).toString());
}

/** A write may take fewer bytes than it was given: on a full disk, at a signal. */
export function writeFully(files: JournalFiles, fd: number, bytes: Buffer): void {
  for (let done = 0; done < bytes.length; ) {
    const count = files.write(fd, bytes, done);
    if (count <= 0) throw new JournalError('io', 'The disk took no bytes. Look at it before going on.');
    done += count;
  }
}

/** Makes a file that did not exist. Durable with `syncFolder` after it. */
export function createFile(files: JournalFiles, path: string, bytes: Buffer): void {
  withFile(files, path, 'create', (fd) => {
    writeFully(files, fd, bytes);
    files.fsync(fd);
  });
}

/** Deletes a file; false where there was none. */
export function deleteFile(files: JournalFiles, path: string): boolean {
  try {
    files.unlink(path);
    return true;
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    throw error;
  }
}

/** Makes the names in a folder durable: fsync of a file does not promise its name (fsync(2)). */
export function syncFolder(files: JournalFiles, dir: string): void {
  withFile(files, dir, 'folder', (fd) => files.fsync(fd));
}
