import { createPrivateKey, createPublicKey, generateKeyPairSync, type KeyObject, sign } from 'node:crypto';
import { join } from 'node:path';
import { createFile, deleteFile, readText, syncFolder } from './disk.ts';
import { codeOf } from './error.ts';
import type { JournalFiles } from './system.ts';

/**
 * The Ed25519 key (RFC 8032) of one job: made when the job is opened, its public half in the first record, its
 * private half deleted at the seal. It shows that whoever sealed the job is whoever opened it, no more.
 */
export type JobKey = {
  readonly publicBytes: Buffer;
  readonly privateText: string;
  readonly sign: (text: string) => Buffer;
};

const FILE = '.key';
/** DER of an Ed25519 public key before its 32 bytes (RFC 8410, section 4). */
const PUBLIC_PREFIX = Buffer.from('302a300506032b6570032100', 'hex');

/** A new Ed25519 key pair (RFC 8032) for one job. */
export function makeJobKey(): JobKey {
  return jobKey(generateKeyPairSync('ed25519').privateKey);
}

/**
 * The public key of its 32 bytes.
 *
 * @throws where they are no key
 */
export function publicKeyFrom(bytes: Buffer): KeyObject {
  return createPublicKey({ key: Buffer.concat([PUBLIC_PREFIX, bytes]), type: 'spki', format: 'der' });
}

/** Writes the key of a job that begins, in place of one that a start cut short may have left. */
export function writeJobKey(files: JournalFiles, dir: string, key: JobKey): void {
  deleteFile(files, join(dir, FILE));
  createFile(files, join(dir, FILE), Buffer.from(key.privateText));
}

/**
 * The key of a job that is not sealed yet, or null where there is none or it is no key.
 *
 * @throws what the system does where it cannot be read now: it may well be there
 */
export function readJobKey(files: JournalFiles, dir: string): JobKey | null {
  let text: string;
  try {
    text = readText(files, join(dir, FILE));
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  }
  try {
    return jobKey(createPrivateKey(text));
  } catch {
    return null;
  }
}

/** Whether the job can still be sealed: its private key is there. */
export function hasJobKey(files: JournalFiles, dir: string): boolean {
  return files.list(dir).includes(FILE);
}

/** Deletes the private key, durably: from then on nobody can sign for this job. */
export function deleteJobKey(files: JournalFiles, dir: string): void {
  if (deleteFile(files, join(dir, FILE))) syncFolder(files, dir);
}

function jobKey(privateKey: KeyObject): JobKey {
  const der = createPublicKey(privateKey).export({ type: 'spki', format: 'der' });
  return {
    publicBytes: der.subarray(PUBLIC_PREFIX.length),
    privateText: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
    sign: (text) => sign(null, Buffer.from(text), privateKey),
  };
}
