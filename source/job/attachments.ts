import { createHash } from 'node:crypto';
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import { extname, join } from 'node:path';
import { deleteFile, syncFolder, withFile, writeFully } from '../journal/disk.ts';
import { diskError } from '../journal/error.ts';
import { type JournalFiles, realFiles } from '../journal/system.ts';

/** A file that a record speaks of, held in the job folder. `path` is relative to it. */
type Attachment = { readonly path: string; readonly bytes: number; readonly sha256: string };

/** What came of attaching a file. */
type Attached =
  | { readonly ok: true; readonly attachment: Attachment }
  | { readonly ok: false; readonly says: string };

const FOLDER = 'attachments';
/** Until it is whole a file has this name; no record speaks of it. */
const HALF = 'new';
const LARGEST_BYTES = 200 * 1024 * 1024;
const CHUNK_BYTES = 1 << 20;

/**
 * Copies a file into the job, durable when it returns. It gets its name from its content: the name it had may
 * tell of a person, and the same picture twice is kept once.
 *
 * @throws JournalError `disk-full`, `io`; then nothing of it is left
 */
export function attachFile(dir: string, from: string, files: JournalFiles = realFiles): Attached {
  let source: number;
  try {
    source = openSync(from, constants.O_RDONLY | constants.O_NONBLOCK);
  } catch {
    return { ok: false, says: `${from} cannot be read. Give the path of a file that can.` };
  }
  try {
    const stat = fstatSync(source);
    if (!stat.isFile()) return { ok: false, says: `${from} is no file. Give the path of one.` };
    if (stat.size > LARGEST_BYTES) {
      return { ok: false, says: `${from} is larger than 200 MB. Give a smaller one.` };
    }
    const folder = join(dir, FOLDER);
    files.mkdir(folder);
    if (!files.isFolder(folder)) {
      return { ok: false, says: `${folder} is a link, and links are not followed. Make it a folder.` };
    }
    return { ok: true, attachment: store(source, dir, plainExtension(from), files) };
  } catch (error) {
    throw diskError(`${from} could not be copied into the job`, error);
  } finally {
    closeSync(source);
  }
}

function store(source: number, dir: string, extension: string, files: JournalFiles): Attachment {
  const folder = join(dir, FOLDER);
  const half = join(folder, HALF);
  try {
    const { bytes, sha256 } = copyHashed(source, half, files);
    const path = `${FOLDER}/${sha256.slice(0, 16)}${extension}`;
    // Also over one that is there: it may have been damaged since.
    files.rename(half, join(dir, path));
    syncFolder(files, folder);
    return { path, bytes, sha256 };
  } catch (error) {
    tidyAttachments(dir, files);
    throw error;
  }
}

/** Removes what a program that was killed over a copy may have left. */
export function tidyAttachments(dir: string, files: JournalFiles): void {
  deleteFile(files, join(dir, FOLDER, HALF));
}

/**
 * What is wrong with an attachment, or null where it is as recorded.
 *
 * @example attachmentFault('/tmp', { path: '../x', bytes: 1, sha256: '' }) // => '../x is no attachment of this job'
 */
export function attachmentFault(dir: string, recorded: Attachment): string | null {
  if (!/^attachments\/[\da-z.]+$/.test(recorded.path)) return `${recorded.path} is no attachment of this job`;
  let file: number;
  try {
    file = openSync(join(dir, recorded.path), constants.O_RDONLY | constants.O_NOFOLLOW);
  } catch {
    return `${recorded.path} is missing`;
  }
  try {
    if (fstatSync(file).size !== recorded.bytes) return `${recorded.path} has another size than recorded`;
    return hashOf(file, () => undefined).sha256 === recorded.sha256 ? null : `${recorded.path} was altered`;
  } finally {
    closeSync(file);
  }
}

function copyHashed(source: number, to: string, files: JournalFiles): { bytes: number; sha256: string } {
  deleteFile(files, to);
  return withFile(files, to, 'create', (copy) => {
    const hashed = hashOf(source, (chunk) => writeFully(files, copy, chunk));
    files.fsync(copy);
    return hashed;
  });
}

function hashOf(file: number, each: (chunk: Buffer) => void): { bytes: number; sha256: string } {
  const hash = createHash('sha256');
  const buffer = Buffer.allocUnsafe(CHUNK_BYTES);
  let bytes = 0;
  for (let read = readSync(file, buffer); read > 0; read = readSync(file, buffer)) {
    const chunk = buffer.subarray(0, read);
    hash.update(chunk);
    each(chunk);
    bytes += read;
  }
  return { bytes, sha256: hash.digest('hex') };
}

function plainExtension(path: string): string {
  const extension = extname(path).toLowerCase();
  return /^\.[a-z0-9]{1,5}$/.test(extension) ? extension : '';
}
