import { createHash, verify } from 'node:crypto';
import { join } from 'node:path';
import { createFile, deleteFile, readText, syncFolder, withFile } from './disk.ts';
import { type JobKey, publicKeyFrom } from './job-key.ts';
import { FORMAT } from './record.ts';
import type { Head } from './scan.ts';
import type { JournalFiles } from './system.ts';

/** `seal.txt`: the head of a sealed job, signed. Others may add a signature line of their own. */
type SealNote = { readonly origin: string; readonly head: Head; readonly text: string };

const FILE = 'seal.txt';
const ED25519 = 0x01;
const SIGNATURE = /^— (\S+) ([A-Za-z0-9+/]+={0,2})$/;

/** Key id of the C2SP signed-note specification: the first 4 bytes of SHA-256(name, 0x0A, type, public key). */
export function keyId(name: string, publicBytes: Uint8Array): Buffer {
  const hash = createHash('sha256').update(name).update(Uint8Array.of(0x0a, ED25519)).update(publicBytes);
  return hash.digest().subarray(0, 4);
}

/** A text and its signature in the form of the C2SP signed-note specification. */
export function signNote(text: string, name: string, key: JobKey): string {
  const signature = Buffer.concat([keyId(name, key.publicBytes), key.sign(text)]).toString('base64');
  return `${text}\n— ${name} ${signature}\n`;
}

/** The text of a note if the key of this name signed it, otherwise null. Signatures of others are passed over. */
export function textOfNote(note: string, name: string, publicBytes: Buffer): string | null {
  const split = note.lastIndexOf('\n\n');
  if (split < 0 || !note.endsWith('\n')) return null;
  const text = note.slice(0, split + 1);
  const isSigned = note
    .slice(split + 2, -1)
    .split('\n')
    .some((line) => {
      const [, signer, encoded = ''] = SIGNATURE.exec(line) ?? [];
      const bytes = Buffer.from(encoded, 'base64');
      if (signer !== name || !bytes.subarray(0, 4).equals(keyId(name, publicBytes))) return false;
      return verify(null, Buffer.from(text), publicKeyFrom(publicBytes), bytes.subarray(4));
    });
  return isSigned ? text : null;
}

function sealText(job: string, head: Head): string {
  return `${FORMAT}/${job}\n${head.count}\n${Buffer.from(head.digest, 'hex').toString('base64')}\n`;
}

/** Written aside, made durable, then given its name, so that a seal is there in full or not at all. */
export function writeSeal(files: JournalFiles, dir: string, job: string, head: Head, key: JobKey): void {
  const draft = join(dir, `.${FILE}`);
  deleteFile(files, draft);
  createFile(files, draft, Buffer.from(signNote(sealText(job, head), signerOf(job), key)));
  withFile(files, draft, 'read', (fd) => files.chmod(fd, 0o400));
  files.rename(draft, join(dir, FILE));
  syncFolder(files, dir);
}

/** What the note beside a journal says, its signature unchecked; null without a note. */
export function readSeal(files: JournalFiles, dir: string): SealNote | null {
  if (!files.list(dir).includes(FILE)) return null;
  const text = readText(files, join(dir, FILE));
  const [origin = '', count = '', digest = ''] = text.split('\n');
  const head = { count: Number(count) || 0, digest: Buffer.from(digest, 'base64').toString('hex') };
  return { origin, head, text };
}

/** Whether the note is signed by the private half of this key, for this job. */
export function hasValidSignature(note: SealNote, job: string, publicKey: string): boolean {
  try {
    const text = textOfNote(note.text, signerOf(job), Buffer.from(publicKey, 'base64'));
    return text === sealText(job, note.head);
  } catch {
    return false;
  }
}

function signerOf(job: string): string {
  return `loopward-job-${job.replaceAll(/[\s+]/g, '-')}`;
}
