import { FORMAT } from './record.ts';
import type { Head } from './scan.ts';

/**
 * A head that somebody outside holds: printed on a handover, sent by mail, scanned. The count may be missing; the code
 * that is scanned also tells the job.
 */
export type OutsideHead = { readonly count: number | null; readonly digest: string; readonly job?: string };

const CODE = /^loopward\/journal@1 (.+) (\d{1,15}) ([0-9a-f]{64})$/;

/**
 * The head in full, `COUNT:DIGEST`.
 *
 * @example formatHead({ count: 2, digest: 'ab' }) // => '2:ab'
 */
export function formatHead(head: Head): string {
  return `${head.count}:${head.digest}`;
}

/**
 * The head in full as it is read out: the count, then the 64 digits in groups of 4, 8 groups a line. It is never
 * shortened: whoever writes the journal could prepare two versions that agree in a short digest.
 */
export function headToReadOut(head: Head): readonly string[] {
  const groups = head.digest.match(/.{4}/g) ?? [];
  return [`${head.count} records`, groups.slice(0, 8).join(' '), groups.slice(8).join(' ')];
}

/**
 * What the printed code says when it is scanned.
 *
 * @example codeToScan('hsc-7', { count: 2, digest: 'ab' }) // => 'loopward/journal@1 hsc-7 2 ab'
 */
export function codeToScan(job: string, { count, digest }: Head): string {
  return `${FORMAT} ${job} ${count} ${digest}`;
}

/** `[COUNT:]DIGEST` as a person types it, spaces and capitals allowed, or the scanned code; null if it is none. */
export function parseHead(text: string): OutsideHead | null {
  const [, job, counted, scanned] = CODE.exec(text.trim()) ?? [];
  if (job !== undefined && scanned !== undefined) return { count: Number(counted), digest: scanned, job };
  const match = /^(?:(\d{1,15}):)?([0-9a-f]{64})$/.exec(text.replaceAll(/[\s-]/g, '').toLowerCase());
  if (match?.[2] === undefined) return null;
  return { count: match[1] === undefined ? null : Number(match[1]), digest: match[2] };
}
