import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { attachmentFault } from '../job/attachments.ts';
import { JournalError } from '../journal/error.ts';
import { headToReadOut, type OutsideHead, parseHead } from '../journal/head.ts';
import type { JournalRecord } from '../journal/record.ts';
import { SOUND } from '../journal/verdict-words.ts';
import { type Verdict, verifyJournal } from '../journal/verify.ts';
import { shownRow } from '../screens/terminal/shown-text.ts';
import type { Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { jobOf } from './jobs-folder.ts';

/** Is the record whole and unaltered, and are the files it speaks of? */
export const run: Run = (given, context) => {
  const head = given.text('head');
  if (head !== undefined && parseHead(head) === null)
    throw new Ending(
      'usage',
      `--head ${head} is no head. Give COUNT:DIGEST or DIGEST as printed on the handover; the digest has 64 hex digits.`,
    );
  const verdict = verdictOn(jobOf(given, context), head);
  if (given.json) context.out(JSON.stringify(verdict));
  else for (const line of verdictLines(verdict)) context.out(line);
  return SOUND.has(verdict.outcome) ? EXIT.done : EXIT.record;
};

/** What is wrong with a file that a record speaks of. */
type Fault = { readonly n: number; readonly says: string };

/** Files attached are checked where they can be: a journal handed on by itself has none beside it. */
type Checked = Verdict & { readonly attachments: number; readonly attachmentsChecked: boolean };

function verdictOn(path: string, head: string | undefined): Checked {
  const isBare = statSync(path).isFile();
  const dir = isBare ? dirname(path) : path;
  const attachmentsChecked = !isBare || existsSync(join(dir, 'attachments'));
  let attachments = 0;
  let fault: Fault | null = null;
  const onRecord = ({ n, data }: JournalRecord) => {
    const { path: file, bytes, sha256 } = data;
    if (typeof file !== 'string' || typeof bytes !== 'number' || typeof sha256 !== 'string') return;
    attachments += 1;
    if (fault !== null || !attachmentsChecked) return;
    const says = attachmentFault(dir, { path: file, bytes, sha256 });
    if (says !== null) fault = { n, says };
  };
  try {
    const verdict = verifyJournal(path, { onRecord, ...(head === undefined ? {} : { head }) });
    return { ...withAttachments(verdict, fault), attachments, attachmentsChecked };
  } catch (error) {
    throw error instanceof JournalError ? new Ending('usage', error.message) : error;
  }
}

function withAttachments(verdict: Verdict, fault: Fault | null): Verdict {
  if (fault === null || !SOUND.has(verdict.outcome)) return verdict;
  const says = `The journal is whole, but record ${fault.n} speaks of a file that is not as it was recorded: ${shownRow(fault.says)}.`;
  return { ...verdict, outcome: 'broken', firstBad: fault.n, says };
}

function verdictLines({ outcome, says, head, seal, attachments, attachmentsChecked }: Checked): string[] {
  const held = parseHead(seal ?? head ?? '');
  return [
    `${outcome.toUpperCase()}: ${says}`,
    ...(attachments === 0
      ? []
      : [`Files attached: ${attachments}${attachmentsChecked ? '' : ', not here and not checked'}.`]),
    ...(held === null ? [] : headLines(held, seal !== null)),
  ];
}

function headLines({ count, digest }: OutsideHead, isSealed: boolean): string[] {
  const [records, ...groups] = headToReadOut({ count: count ?? 0, digest });
  return [`Head ${isSealed ? 'at the seal' : 'now'}: ${records}`, ...groups.map((line) => `  ${line}`)];
}
