import { asLeft } from '../job/as-left.ts';
import { planInForce } from '../job/plan-of-basis.ts';
import { type Private, readPrivate } from '../job/private.ts';
import { folderOf } from '../job/read-job.ts';
import { readRecords } from '../journal/read.ts';
import { verifyJournal } from '../journal/verify.ts';
import { collectRecords } from './collect.ts';
import type { HandoverSource } from './sections/source.ts';

const NOBODY: Private = { persons: {}, site: null };

/**
 * Reads a job for its documents. Writes nothing, takes no lock.
 *
 * @param path a job folder, or a `journal.jsonl`
 * @param redacted leaves names, place and free words out
 * @throws JournalError `missing`, or `broken` where damage follows
 */
export function readHandoverSource(path: string, redacted = false): HandoverSource {
  const held = redacted ? NOBODY : readPrivate(folderOf(path));
  const collected = collectRecords(readRecords(path), held, redacted);
  const known = collected.replay.names.vouchedFor(held);
  // The place is told from the private file alone: whatever stands there must not keep the record from being read.
  const plan = planInForce(collected.replay.basis, null);
  const left = asLeft(collected.replay);
  return { collected, plan, left, known, verdict: verifyJournal(path), redacted };
}
