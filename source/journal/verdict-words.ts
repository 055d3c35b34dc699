import type { OutsideHead } from './head.ts';
import type { Head } from './scan.ts';

export type Outcome =
  | 'intact'
  | 'self-consistent'
  | 'open'
  | 'torn'
  | 'broken'
  | 'truncated'
  | 'replaced'
  | 'extended'
  | 'no-header';

/** Outcomes with which a script may go on. */
export const SOUND: ReadonlySet<Outcome> = new Set(['intact', 'self-consistent', 'open']);

/** What a verdict rests on. */
export type Findings = {
  readonly outcome: Outcome;
  readonly records: number;
  readonly firstBad: number | null;
  readonly why: string;
  /** Records of an earlier part that was not looked at. */
  readonly continues: number;
  readonly seal: Head | null;
  readonly outside: OutsideHead | null;
  /** How many records the head from outside covers, if it was found. */
  readonly matched: number | null;
  readonly sealNote: 'none' | 'signed' | 'not-signed';
  readonly keyIsGone: boolean;
};

const WORDS: Readonly<Record<Outcome, (f: Findings) => string>> = {
  intact: (f) =>
    `Verified: sealed, whole, and the same ${f.matched} records as the head from outside stands for. It shows that nothing was altered since that head was handed over, not that what was entered is true.`,
  'self-consistent': (f) =>
    `Sealed and consistent in itself: ${f.seal?.count} records. Without a head from outside this does not show that it is the record that was handed over: whoever holds the file could have written it anew. Give the head from the handover with --head.`,
  open: (f) =>
    `Not sealed: ${f.records} records, consistent in themselves${f.matched === null ? '. Records cut off at the end would not be noticed without a head from outside' : ', and the head from outside is that of the last'}.${f.keyIsGone ? ' The key of the job is gone as after a seal: ask where the end is.' : ''}`,
  torn: (f) =>
    `${f.records} good records, then the end of a record that was never finished, as a power cut or a kill leaves it. It may also be damage to record ${f.firstBad}: an unsealed journal cannot tell. Opening the job mends it and keeps the end.`,
  broken: (f) =>
    `Damaged or altered at record ${f.firstBad}: ${f.why}. The records before it are consistent.`,
  truncated: (f) =>
    `Cut short: ${f.records} good records where ${f.outside?.count ?? 'the seal'} ${f.outside?.count == null ? 'stands for more' : 'were handed over'}. Records from ${f.firstBad} on are missing.`,
  replaced: (f) => {
    if (f.why === 'note') return 'Not the journal that was sealed: the seal beside it does not fit it.';
    return f.outside?.count == null
      ? 'No record has this digest: it is another journal, or one that was cut short. Give the count as well to tell which.'
      : `Another journal: record ${f.outside.count - 1} is not the one the head from outside stands for.`;
  },
  extended: (f) =>
    `The first ${f.matched} records are those the head from outside stands for. ${f.records - (f.matched ?? 0)} more follow that it does not cover.`,
  'no-header': () => 'No journal: there is no good first record.',
};

/** What a verdict proves, in words that promise no more. */
export function verdictWords(findings: Findings, repaired: boolean): string {
  const notes = findings.seal === null ? 0 : findings.records - findings.seal.count;
  return [
    WORDS[findings.outcome](findings),
    notes > 0 && findings.outcome !== 'extended'
      ? `${notes} records of notes follow the seal; the sealed head does not cover them.`
      : '',
    repaired ? 'An unfinished write was mended on the way; the record "repair" says where.' : '',
    findings.continues > 0
      ? `This part goes on from record ${findings.continues - 1} of an earlier part, which was not looked at.`
      : '',
    findings.seal !== null && findings.sealNote === 'none'
      ? 'The note of the seal (seal.txt) is missing.'
      : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
