import { createHash } from 'node:crypto';
import {
  closeSync,
  constants,
  existsSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { extname, join } from 'node:path';

/** A file that a record speaks of, held in the job folder. `path` is relative to it. */
type Attachment = { readonly path: string; readonly bytes: number; readonly sha256: string };

/** What came of attaching a file. */
type Attached =
  | { readonly ok: true; readonly attachment: Attachment }
  | { readonly ok: false; readonly says: string };

const FOLDER = 'attachments';
const LARGEST_BYTES = 200 * 1024 * 1024;
const CHUNK_BYTES = 1 << 20;

/**
 * Copies a file into the job, durable when it returns. It gets its name from its content: the name it had may
 * tell of a person, and the same picture twice is kept once.
 */
export function attachFile(dir: string, from: string): Attached {
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
    mkdirSync(join(dir, FOLDER), { recursive: true, mode: 0o700 });
    if (lstatSync(join(dir, FOLDER)).isSymbolicLink()) {
      return {
        ok: false,
        says: `${join(dir, FOLDER)} is a link, and links are not followed. Make it a folder.`,
      };
    }
    const beside = join(dir, FOLDER, 'new');
    const { bytes, sha256 } = copyHashed(source, beside);
    const path = `${FOLDER}/${sha256.slice(0, 16)}${plainExtension(from)}`;
    if (existsSync(join(dir, path))) rmSync(beside);
    else renameSync(beside, join(dir, path));
    syncFolder(join(dir, FOLDER));
    return { ok: true, attachment: { path, bytes, sha256 } };
  } finally {
    closeSync(source);
  }
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

function copyHashed(source: number, to: string): { bytes: number; sha256: string } {
  rmSync(to, { force: true });
  const copy = openSync(to, 'wx', 0o600);
  try {
    const hashed = hashOf(source, (chunk) => {
      let rest = chunk;
      while (rest.length > 0) rest = rest.subarray(writeSync(copy, rest));
    });
    fsyncSync(copy);
    return hashed;
  } finally {
    closeSync(copy);
  }
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

function syncFolder(folder: string): void {
  const handle = openSync(folder, constants.O_RDONLY);
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
