import { scanChain } from './chain.ts';
import type { Check } from './checks.ts';
import { formatHead, type OutsideHead, parseHead } from './head.ts';
import { hasJobKey } from './job-key.ts';
import { judge, type Match } from './judge-record.ts';
import { readSaved } from './last-saved.ts';
import { partsAt } from './read.ts';
import type { JournalRecord } from './record.ts';
import type { Head } from './scan.ts';
import { readSeal, type SealBeside } from './seal-note.ts';
import { type JournalFiles, realFiles } from './system.ts';
import { type Outcome, type Shown, verdictWords } from './verdict-words.ts';

/** `loopward/verify@1`, with the sentences that say what is proved and what is not. */
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
  /** What may be concluded from all of it. */
  readonly says: string;
  /** The three things that were looked at, each by itself. */
  readonly verdicts: { readonly record: Shown; readonly seal: Shown; readonly head: Shown };
};

export type VerifyOptions = {
  /** `[COUNT:]DIGEST` that somebody outside holds, or the scanned code. */
  readonly head?: string;
  /** Parse every record as well as checking the chain; the default. */
  readonly full?: boolean;
  readonly checks?: readonly Check[];
  /** Sees every good record of a full verification, so that the files it speaks of can be checked on the way. */
  readonly onRecord?: (record: JournalRecord) => void;
  readonly files?: JournalFiles;
};

/**
 * Whether a journal (a folder, or one of its files) is whole and unaltered. Reads without a lock, in flat memory.
 *
 * A chain alone proves nothing against whoever holds the file: it can be written anew from the start. So only a
 * sealed journal that agrees with a head from outside is `intact`; and nothing that is taken away from beside it
 * betters the outcome.
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
  const isBare = path !== dir;
  // Before the records are read: another program may write on meanwhile.
  const saved = isBare ? 0 : (readSaved(files, dir)?.count ?? 0);
  const key = isBare ? 'not-looked-at' : hasJobKey(files, dir) ? 'here' : 'gone';
  const beside: SealBeside = from.count > 0 ? { is: 'none' } : readSeal(files, dir, parts);
  const outsideMatch = matcher(outside);
  const noteMatch = matcher('head' in beside ? beside.head : null);
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
  const judged = judge({
    scan,
    from,
    outside,
    outsideMatch: isOfOther(outside, header) ? 'other' : outsideMatch.found(),
    beside,
    noteMatch: noteMatch.found(),
    saved,
    key,
  });
  return {
    format: 'loopward/verify@1',
    outcome: judged.outcome,
    repaired,
    records: scan.head.count,
    firstBad: judged.firstBad,
    head: scan.head.count === 0 ? null : formatHead(scan.head),
    seal: scan.seal === null ? null : formatHead(scan.seal),
    ...verdictWords(judged, repaired),
  };
}

/** The scanned code names its job: held against another one's record it can prove nothing. */
function isOfOther(outside: OutsideHead | null, header: JournalRecord | null): boolean {
  return outside?.job !== undefined && header !== null && header.data.job !== outside.job;
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
