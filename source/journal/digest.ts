import { hash } from 'node:crypto';

/** SHA-256 (FIPS 180-4) as 64 lower-case hex digits. The one-shot call is faster than an object that is fed. */
export function sha256(bytes: string | Uint8Array): string {
  return hash('sha256', bytes, 'hex');
}
