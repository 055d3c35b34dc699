import { asLeft } from '../job/as-left.ts';
import { planInForce } from '../job/plan-of-basis.ts';
import { type Private, readPrivate } from '../job/private.ts';
import { folderOf } from '../job/read-job.ts';
import type { Replay } from '../job/replay.ts';
import type { Fault } from '../journal/chain.ts';
import { damageError, readBeyond } from '../journal/read-beyond.ts';
import type { JournalRecord } from '../journal/record.ts';
import { verifyJournal } from '../journal/verify.ts';
import { collectRecords } from './collect.ts';
import type { HandoverSource } from './sections/source.ts';

const NOBODY: Private = { persons: {}, site: null };

/**
 * Reads a job for its documents. Writes nothing, takes no lock.
 *
 * @param path a job folder, or a `journal.jsonl`
 * @param redacted leaves names, place and free words out
 * @throws JournalError `missing`, or `broken` where damage leaves not even what the job stands on
 */
export function readHandoverSource(path: string, redacted = false): HandoverSource {
  const held = redacted ? NOBODY : readPrivate(folderOf(path));
  const behind: JournalRecord[] = [];
  let damage: Fault | null = null;
  function* proved(): Generator<JournalRecord> {
    const reading = readBeyond(path);
    let next = reading.next();
    for (; !next.done; next = reading.next()) {
      if (next.value.proved) yield next.value.record;
      else behind.push(next.value.record);
    }
    damage = next.value;
  }
  const collected = collectRecords(proved(), held, redacted, () => behind);
  if (damage !== null && !hasBasis(collected.replay)) throw damageError(damage);
  const known = collected.replay.names.vouchedFor(held);
  // The place is told from the private file alone: whatever stands there must not keep the record from being read.
  const plan = planInForce(collected.replay.basis, null);
  const left = asLeft(collected.replay);
  return { collected, plan, left, known, verdict: verifyJournal(path), redacted };
}

/** Whether damage left what the job stands on: without it there is no document. */
function hasBasis(replay: Replay): boolean {
  try {
    return replay.basis !== null;
  } catch {
    return false;
  }
}
