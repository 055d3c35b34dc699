import type { Head } from './scan.ts';

/** A head that somebody outside holds: printed on a handover, sent by mail. The count may be missing. */
export type OutsideHead = { readonly count: number | null; readonly digest: string };

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

/** `[COUNT:]DIGEST` as a person types it, spaces and capitals allowed; null if it is none. */
export function parseHead(text: string): OutsideHead | null {
  const match = /^(?:(\d{1,15}):)?([0-9a-f]{64})$/.exec(text.replaceAll(/[\s-]/g, '').toLowerCase());
  if (match?.[2] === undefined) return null;
  return { count: match[1] === undefined ? null : Number(match[1]), digest: match[2] };
}
