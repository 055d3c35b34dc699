import { type ChainScan, scanChain } from './chain.ts';
import type { Check } from './checks.ts';
import { formatHead, type OutsideHead, parseHead } from './head.ts';
import { hasJobKey } from './job-key.ts';
import { partsAt } from './read.ts';
import type { JournalRecord } from './record.ts';
import type { Head } from './scan.ts';
import { hasValidSignature, readSeal } from './seal-note.ts';
import { type JournalFiles, realFiles } from './system.ts';
import { type Findings, type Outcome, verdictWords } from './verdict-words.ts';

/** `loopward/verify@1`, with the sentence that says what is proved and what is not. */
export type Verdict = {
  readonly format: 'loopward/verify@1';
  readonly outcome: Outcome;
  /** Whether an unfinished write was cut off at some time; the record says which. */
  readonly repaired: boolean;
  readonly records: number;
  /** The number of the first record that is missing or not good. */
  readonly firstBad: number | null;
  readonly head: string | null;
  /** The head at the seal, where notes may follow it. */
  readonly seal: string | null;
  readonly says: string;
};

export type VerifyOptions = {
  /** `[COUNT:]DIGEST` that somebody outside holds. */
  readonly head?: string;
  /** Parse every record as well as checking the chain; the default. */
  readonly full?: boolean;
  readonly checks?: readonly Check[];
  /** Sees every good record of a full verification, so that the files it speaks of can be checked on the way. */
  readonly onRecord?: (record: JournalRecord) => void;
  readonly files?: JournalFiles;
};

/** What a head that is held against the chain shows. */
type Match = 'missing' | 'other' | { readonly count: number };

/**
 * Whether a journal (a folder, or one of its files) is whole and unaltered. Reads without a lock, in flat memory.
 *
 * A chain alone proves nothing against whoever holds the file: it can be written anew from the start. So only a
 * sealed journal that agrees with a head from outside is `intact`.
 *
 * @throws TypeError if `head` is no head; JournalError `missing`, `io`
 */
export function verifyJournal(path: string, options: VerifyOptions = {}): Verdict {
  const { full = true, files = realFiles, checks } = options;
  const outside = options.head === undefined ? null : parseHead(options.head);
  if (options.head !== undefined && outside === null)
    throw new TypeError(
      'A head is COUNT:DIGEST or DIGEST, and the digest has 64 hex digits. Give it in full.',
    );
  const { dir, parts, from } = partsAt(files, path);
  const note = from.count > 0 ? null : readSeal(files, dir);
  const outsideMatch = matcher(outside);
  const noteMatch = matcher(note?.head ?? null);
  let repaired = false;
  let header: JournalRecord | null = null;
  const scan = scanChain(
    files,
    parts,
    { full, ...(checks === undefined ? {} : { checks }) },
    (cursor) => {
      header ??= cursor.record;
      if (cursor.record !== null) options.onRecord?.(cursor.record);
      repaired ||= cursor.kind === 'repair';
      outsideMatch.see(cursor.head);
      noteMatch.see(cursor.head);
    },
    from,
  );
  const sealNote = note === null ? 'none' : isSigned(note, header) ? 'signed' : 'not-signed';
  const findings: Findings = {
    records: scan.head.count,
    continues: from.count,
    seal: scan.seal,
    keyIsGone: path === dir && !hasJobKey(files, dir),
    outside,
    sealNote,
    ...judge(scan, from, outsideMatch.found(), noteMatch.found(), sealNote),
  };
  return {
    format: 'loopward/verify@1',
    outcome: findings.outcome,
    repaired,
    records: findings.records,
    firstBad: findings.firstBad,
    head: scan.head.count === 0 ? null : formatHead(scan.head),
    seal: scan.seal === null ? null : formatHead(scan.seal),
    says: verdictWords(findings, repaired),
  };
}

type Judged = Pick<Findings, 'outcome' | 'firstBad' | 'why' | 'matched'>;

function judge(
  scan: ChainScan,
  from: Head,
  outside: Match | null,
  note: Match | null,
  sealNote: Findings['sealNote'],
): Judged {
  const end = scan.parts.at(-1)!.scan;
  const records = scan.head.count;
  const isCut = end.rest === 'none' || (end.rest === 'torn' && end.cutOff);
  const isShort = outside === 'missing' || note === 'missing';
  const matched = typeof outside === 'object' && outside !== null ? outside.count : null;
  const found = (outcome: Outcome, firstBad: number | null, why = ''): Judged => ({
    outcome,
    firstBad,
    why,
    matched,
  });
  if (scan.fault !== null)
    return found(
      'broken',
      scan.fault.n,
      `${scan.fault.says} (${scan.fault.file}, byte ${scan.fault.offset})`,
    );
  if (isShort && isCut) return found('truncated', records);
  if (records === from.count && end.rest !== 'broken') return found('no-header', records);
  if (isShort) return found('broken', records, end.says ?? '');
  if (outside === 'other') return found('replaced', null);
  if (note === 'other' || sealNote === 'not-signed') return found('replaced', null, 'note');
  if (end.rest === 'torn') return found('torn', records);
  if (matched !== null && matched !== records && matched !== scan.seal?.count) return found('extended', null);
  if (scan.seal === null) return found('open', null);
  return found(matched === null ? 'self-consistent' : 'intact', null);
}

function matcher(held: OutsideHead | null): { see(head: Head): void; found(): Match | null } {
  let found: Match = held?.count == null ? 'other' : 'missing';
  return {
    see(head) {
      if (held === null || (held.count !== null && held.count !== head.count)) return;
      if (held.digest === head.digest) found = { count: head.count };
      else if (held.count !== null) found = 'other';
    },
    found: () => (held === null ? null : found),
  };
}

function isSigned(note: NonNullable<ReturnType<typeof readSeal>>, header: JournalRecord | null): boolean {
  if (header === null) return true;
  const { job, publicKey } = header.data;
  return typeof job === 'string' && typeof publicKey === 'string' && hasValidSignature(note, job, publicKey);
}
