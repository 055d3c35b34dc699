import { BesideCheck, type BesideChecked, type BesideFault, besideLines } from '../job/check-beside.ts';
import { JournalError } from '../journal/error.ts';
import { headToReadOut, type OutsideHead, parseHead } from '../journal/head.ts';
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
      `--head ${head} is no head. Give COUNT:DIGEST or DIGEST as printed on the handover, or what its code says when it is scanned; the digest has 64 hex digits.`,
    );
  const verdict = verdictOn(jobOf(given, context), head);
  if (given.json) context.out(JSON.stringify(verdict));
  else for (const line of verdictLines(verdict)) context.out(line);
  return SOUND.has(verdict.outcome) ? EXIT.done : EXIT.record;
};

/** Files attached and put aside are checked where they can be: a journal handed on by itself has none beside it. */
type Checked = Verdict & BesideChecked;

function verdictOn(path: string, head: string | undefined): Checked {
  const beside = new BesideCheck(path);
  try {
    const verdict = verifyJournal(path, {
      onRecord: (record) => beside.take(record),
      ...(head === undefined ? {} : { head }),
    });
    const found = beside.finish();
    return { ...withBeside(verdict, found.fault), ...found.checked };
  } catch (error) {
    throw error instanceof JournalError ? new Ending('usage', error.message) : error;
  }
}

function withBeside(verdict: Verdict, fault: BesideFault | null): Verdict {
  if (fault === null || !SOUND.has(verdict.outcome)) return verdict;
  return {
    ...verdict,
    outcome: 'broken',
    firstBad: fault.n,
    says: `The journal is whole, but ${shownRow(fault.says)}.`,
  };
}

function verdictLines(checked: Checked): string[] {
  const { outcome, says, head, seal, verdicts } = checked;
  const held = parseHead(seal ?? head ?? '');
  return [
    `${outcome.toUpperCase()}: ${says}`,
    `Record: ${verdicts.record.says}`,
    `Seal: ${verdicts.seal.says}`,
    `Head from outside: ${verdicts.head.says}`,
    ...besideLines(checked),
    ...(held === null ? [] : headLines(held, seal !== null)),
  ];
}

function headLines({ count, digest }: OutsideHead, isSealed: boolean): string[] {
  const [records, ...groups] = headToReadOut({ count: count ?? 0, digest });
  return [`Head ${isSealed ? 'at the seal' : 'now'}: ${records}`, ...groups.map((line) => `  ${line}`)];
}
