import { createHash, verify } from 'node:crypto';
import { join } from 'node:path';
import { firstRecordOf } from './chain.ts';
import { createFile, deleteFile, readText, syncFolder, withFile } from './disk.ts';
import { type JobKey, publicKeyFrom } from './job-key.ts';
import type { Part } from './parts.ts';
import { FORMAT } from './record.ts';
import type { Head } from './scan.ts';
import type { JournalFiles } from './system.ts';

/** The head of a sealed job, signed. Others may add a signature line of their own. */
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

/**
 * What stands beside a journal as its seal. `unreadable` is anything that does not say what a seal says; `not-signed`
 * says it, and no key of the job has signed it. Only `signed` is evidence of anything.
 */
export type SealBeside =
  | { readonly is: 'none' | 'unreadable' }
  | { readonly is: 'signed' | 'not-signed'; readonly head: Head };

/** @param parts of the journal: the first record of each may tell a key that signs for it */
export function readSeal(files: JournalFiles, dir: string, parts: readonly Part[]): SealBeside {
  if (!hasSeal(files, dir)) return { is: 'none' };
  const text = textOfSeal(files, dir);
  const [, origin = '', count = '', digest = ''] = SEAL.exec(text) ?? [];
  if (origin === '') return { is: 'unreadable' };
  const head = { count: Number(count), digest: Buffer.from(digest, 'base64').toString('hex') };
  const firsts = parts.map((part) => firstRecordOf(files, part)?.data ?? {});
  const keys = firsts.filter(
    ({ job, publicKey }) => typeof job === 'string' && typeof publicKey === 'string',
  );
  // Where not even a first record is left, what the seal speaks of is missing all the same.
  const isSigned =
    keys.length === 0 ||
    keys.some(({ job, publicKey }) => hasValidSignature(text, head, String(job), String(publicKey)));
  return { is: isSigned ? 'signed' : 'not-signed', head };
}

const SEAL = /^loopward\/journal@1\/(.+)\n(\d{1,15})\n([A-Za-z0-9+/]{43}=)\n\n/;

/** Whether there is a file of a seal, whatever it says. */
export function hasSeal(files: JournalFiles, dir: string): boolean {
  return files.list(dir).includes(FILE);
}

/** With the ends of lines as they were written: mail and editors change them, and nothing else. */
function textOfSeal(files: JournalFiles, dir: string): string {
  try {
    return readText(files, join(dir, FILE)).replaceAll('\r\n', '\n');
  } catch {
    return '';
  }
}

function hasValidSignature(note: string, head: Head, job: string, publicKey: string): boolean {
  try {
    return textOfNote(note, signerOf(job), Buffer.from(publicKey, 'base64')) === sealText(job, head);
  } catch {
    return false;
  }
}

function signerOf(job: string): string {
  return `loopward-job-${job.replaceAll(/[\s+]/g, '-')}`;
}
