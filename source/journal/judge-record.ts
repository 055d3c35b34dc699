import type { ChainScan } from './chain.ts';
import type { OutsideHead } from './head.ts';
import type { Head } from './scan.ts';
import type { SealBeside } from './seal-note.ts';
import type { Outcome } from './verdict-words.ts';

/** What a head that is held against the chain shows. */
export type Match = 'missing' | 'other' | { readonly count: number };

/** What there is to judge by. */
export type Evidence = {
  readonly scan: ChainScan;
  /** Where the chain that was looked at begins. */
  readonly from: Head;
  readonly outside: OutsideHead | null;
  readonly outsideMatch: Match | null;
  readonly beside: SealBeside;
  readonly noteMatch: Match | null;
  /** Records that were saved, as the folder notes it down; 0 where nothing tells. */
  readonly saved: number;
  /** The signing key, which the seal deletes; a journal by itself has nothing beside it to look at. */
  readonly key: 'here' | 'gone' | 'not-looked-at';
};

/**
 * What the seal shows by itself: `none` where none is due, `unfinished` where the program ended between the last record
 * and its seal, `cut` and `gone` where a seal was and the records are not all here.
 */
export type SealIs =
  | 'none'
  | 'not-looked-at'
  | 'good'
  | 'unfinished'
  | 'missing'
  | 'unreadable'
  | 'not-signed'
  | 'other'
  | 'cut'
  | 'gone';

export type RecordIs = 'whole' | 'unfinished' | 'damaged' | 'short' | 'none';
export type HeadIs = 'not-given' | 'same' | 'more-follow' | 'missing' | 'other';

export type Judged = Pick<Evidence, 'scan' | 'from' | 'outside' | 'saved'> & {
  readonly outcome: Outcome;
  readonly firstBad: number | null;
  /** What is wrong with the first record that is not good. */
  readonly why: string;
  readonly record: RecordIs;
  readonly seal: SealIs;
  readonly head: HeadIs;
  /** How many records the head from outside covers, if it was found. */
  readonly matched: number | null;
  /** How many records a signed seal speaks of. */
  readonly sealed: number | null;
};

/** Record, seal and head each by itself, and the one outcome that follows from them. */
export function judge(evidence: Evidence): Judged {
  const { scan, from, outside, saved, outsideMatch } = evidence;
  const seal = sealOf(evidence);
  const matched = typeof outsideMatch === 'object' && outsideMatch !== null ? outsideMatch.count : null;
  const head = headOf(evidence, matched);
  const end = scan.parts.at(-1)!.scan;
  const records = scan.head.count;
  const sealed =
    'head' in evidence.beside && evidence.beside.is === 'signed' ? evidence.beside.head.count : null;
  const found = (outcome: Outcome, record: RecordIs, firstBad: number | null, why = ''): Judged => ({
    ...{ scan, from, outside, saved, seal, head, matched, sealed },
    ...{ outcome, record, firstBad, why },
  });
  if (scan.fault !== null)
    return found(
      'broken',
      'damaged',
      scan.fault.n,
      `${scan.fault.says} (${scan.fault.file}, byte ${scan.fault.offset})`,
    );
  const isShort = head === 'missing' || seal === 'cut' || seal === 'gone' || saved > records;
  const isCut = end.rest === 'none' || (end.rest === 'torn' && end.cutOff);
  if (isShort && isCut) return found('truncated', 'short', records);
  if (records === from.count && end.rest !== 'broken') return found('no-header', 'none', records);
  if (isShort) return found('broken', 'damaged', records, end.says ?? '');
  const record = end.rest === 'torn' ? 'unfinished' : 'whole';
  if (head === 'other') return found('replaced', record, null);
  if (end.rest === 'torn') return found('torn', record, records);
  if (head === 'more-follow') return found('extended', record, null);
  if (scan.seal === null) return found(seal === 'other' ? 'replaced' : 'open', record, null);
  if (head === 'same') return found('intact', record, null);
  return found(OUTCOME_OF_SEAL[seal] ?? 'broken', record, null);
}

/** Of a sealed record for which nobody gives a head. */
const OUTCOME_OF_SEAL: Partial<Record<SealIs, Outcome>> = {
  good: 'self-consistent',
  unfinished: 'self-consistent',
  'not-looked-at': 'self-consistent',
  other: 'replaced',
};

function headOf({ scan, outside, outsideMatch }: Evidence, matched: number | null): HeadIs {
  if (outside === null || outsideMatch === null) return 'not-given';
  if (matched === null) return outsideMatch === 'missing' ? 'missing' : 'other';
  return matched === scan.head.count || matched === scan.seal?.count ? 'same' : 'more-follow';
}

function sealOf({ scan, beside, noteMatch, key }: Evidence): SealIs {
  const isSealed = scan.seal !== null;
  if (beside.is === 'signed') {
    if (noteMatch === 'missing') return 'cut';
    const isIts = typeof noteMatch === 'object' && noteMatch !== null && noteMatch.count === scan.seal?.count;
    return isIts ? 'good' : 'other';
  }
  if (!isSealed && key === 'gone') return 'gone';
  if (beside.is === 'none') {
    if (!isSealed) return 'none';
    return key === 'here' ? 'unfinished' : key === 'gone' ? 'missing' : 'not-looked-at';
  }
  if (!isSealed) return 'none';
  return beside.is;
}
