import * as crypto from 'node:crypto';

// The one-shot call is the faster one; the first releases of Node 20 lack it.
const oneShot: typeof crypto.hash | undefined = crypto.hash;

/** SHA-256 (FIPS 180-4) as 64 lower-case hex digits. */
export const sha256: (bytes: string | Uint8Array) => string =
  oneShot === undefined
    ? (bytes) => crypto.createHash('sha256').update(bytes).digest('hex')
    : (bytes) => oneShot('sha256', bytes, 'hex');
