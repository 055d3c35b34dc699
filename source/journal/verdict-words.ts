import type { HeadIs, Judged, RecordIs, SealIs } from './judge-record.ts';

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

/** One of the three things that are looked at, in a word for scripts and in a sentence. */
export type Shown = { readonly is: string; readonly says: string };

const CONCLUDES: Readonly<Record<Outcome, (j: Judged) => string>> = {
  intact: ({ matched }) =>
    `Verified: sealed, whole, and the same ${matched} records as the head from outside stands for. It shows that nothing was altered since that head was handed over, not that what was entered is true.`,
  'self-consistent': ({ scan }) =>
    `Sealed and consistent in itself: ${scan.seal?.count} records. Without a head from outside this does not show that it is the record that was handed over: whoever holds the file could have written it anew. Give the head from the handover with --head.`,
  open: ({ scan, matched }) =>
    `Not sealed: ${scan.head.count} records, consistent in themselves${matched === null ? '. Records cut off at the end would not be noticed without a head from outside' : ', and the head from outside is that of the last'}.`,
  torn: ({ scan, firstBad }) =>
    `${scan.head.count} good records, then the end of a record that was never finished, as a power cut or a kill leaves it. It may also be damage to record ${firstBad}: an unsealed journal cannot tell. Opening the job mends it and keeps the end.`,
  broken: (j) => {
    if (j.firstBad !== null)
      return `Damaged or altered at record ${j.firstBad}: ${j.why}. The records before it are consistent; what stands after it is not proved by them.`;
    return 'The records are consistent in themselves, but the seal that was made over them is not here as it was made. Nothing shows that they are those that were sealed: give the head from the handover with --head.';
  },
  truncated: (j) => {
    if (j.seal === 'gone' && j.head !== 'missing')
      return `${j.scan.head.count} good records, not sealed, and the key of the job is gone as after a seal: either its end was cut off with the seal, or hidden files were left behind when it was copied. Ask where the end is.`;
    const [wanted, by] =
      j.head === 'missing'
        ? [j.outside?.count, 'were handed over']
        : j.seal === 'cut'
          ? [j.sealed, 'were sealed']
          : [j.saved, 'had been saved'];
    return `Cut short: ${j.scan.head.count} good records where ${wanted} ${by}. Records from ${j.firstBad} on are missing.`;
  },
  replaced: ({ head, outside, scan }) => {
    if (head !== 'other')
      return 'Not the journal that was sealed: the signed seal beside it was made over other records.';
    if (outside?.count == null)
      return 'No record has this digest: it is another journal, or one that was cut short. Give the count as well to tell which.';
    return outside.job !== undefined && outside.count <= scan.head.count
      ? `Another journal: the code that was scanned is of job ${outside.job}, and record ${outside.count - 1} here is not the one it stands for.`
      : `Another journal: record ${outside.count - 1} is not the one the head from outside stands for.`;
  },
  extended: ({ matched, scan }) =>
    `The first ${matched} records are those the head from outside stands for. ${scan.head.count - (matched ?? 0)} more follow that it does not cover.`,
  'no-header': () => 'No journal: there is no good first record.',
};

const RECORD: Readonly<Record<RecordIs, (j: Judged) => string>> = {
  whole: ({ scan }) => `${scan.head.count} records, each as it was written and linked to the one before it.`,
  unfinished: ({ scan }) =>
    `${scan.head.count} good records, then an end that was not finished, or was damaged.`,
  damaged: ({ firstBad, why }) => `Record ${firstBad} is not as it was written: ${why}.`,
  short: ({ scan }) => `${scan.head.count} good records, and more were written.`,
  none: () => 'There is no good first record.',
};

const SEAL: Readonly<Record<SealIs, string>> = {
  none: 'Not sealed.',
  'not-looked-at': 'Sealed; the signed seal stands beside a journal, and was not looked at.',
  good: 'Sealed, and signed by the key that the first record names: whoever sealed it is whoever opened it.',
  unfinished: 'The last record is a seal, and it is not signed yet: opening the job once does it.',
  missing:
    'The last record is a seal; the signed seal (seal.txt) is missing, so nothing shows who sealed it.',
  unreadable:
    'seal.txt says nothing that a seal says. It was spoiled, which proves nothing against the records.',
  'not-signed':
    'seal.txt is not signed by the key that the first record names. It was spoiled or made by somebody else.',
  other: 'The signed seal was made over other records than these.',
  cut: 'The signed seal speaks of more records than are here.',
  gone: 'There is no seal, and the key that signs it is gone as after one.',
};

const HEAD: Readonly<Record<HeadIs, (j: Judged) => string>> = {
  'not-given': () => 'None was given.',
  same: ({ matched }) => `The same ${matched} records as it stands for.`,
  'more-follow': ({ matched }) => `Its ${matched} records are here, and more follow.`,
  missing: ({ outside }) => `It stands for ${outside?.count} records, and they are not all here.`,
  other: ({ outside }) =>
    outside?.job === undefined
      ? 'It stands for other records than these.'
      : `It stands for other records than these: job ${outside.job}.`,
};

/** What was found of record, seal and head, and what may be concluded, in words that promise no more. */
export function verdictWords(judged: Judged, repaired: boolean) {
  const { scan, outcome, from, record, seal, head } = judged;
  const notes = scan.seal === null ? 0 : scan.head.count - scan.seal.count;
  const hasSealToTell = ['missing', 'unreadable', 'not-signed', 'other'].includes(seal);
  const says = [
    CONCLUDES[outcome](judged),
    // Where the outcome rests on something else.
    hasSealToTell && (outcome === 'intact' || outcome === 'extended') ? SEAL[seal] : '',
    notes > 0 && outcome !== 'extended'
      ? `${notes} records of notes follow the seal; the sealed head does not cover them.`
      : '',
    repaired ? 'An unfinished write was mended on the way; the record "repair" says where.' : '',
    from.count > 0
      ? `This part goes on from record ${from.count - 1} of an earlier part, which was not looked at.`
      : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
  return {
    says,
    verdicts: {
      record: { is: record, says: RECORD[record](judged) },
      seal: { is: seal, says: SEAL[seal] },
      head: { is: head, says: HEAD[head](judged) },
    },
  };
}
