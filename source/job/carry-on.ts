import { resolve } from 'node:path';
import { JournalError } from '../journal/error.ts';
import { Journal } from '../journal/journal.ts';
import type { System } from '../journal/system.ts';
import { copyBeside } from './copy-beside.ts';

/**
 * Goes on with a job in another folder, after NOT SAVED or damage: every record that is good is copied there and
 * linked to, with names, draft and attachments. The old folder takes no more records. Damage is copied as it is and
 * stays in the verdict: it is never mended.
 *
 * @throws JournalError `missing`, `locked`, `exists`, `sealed`, `broken` where no record is good, `disk-full`, `io`
 */
export function carryOnIn(dir: string, into: string, system: System): { readonly records: number } {
  if (resolve(dir) === resolve(into))
    throw new JournalError(
      'exists',
      `${into} is the job itself. Give a folder to go on in, best on another disk.`,
    );
  const journal = takeOver(dir, into, system);
  try {
    copyBeside(dir, into);
    return { records: journal.head.count };
  } finally {
    journal.close();
  }
}

function takeOver(dir: string, into: string, system: System): Journal {
  let journal: Journal;
  try {
    journal = Journal.open(dir, system);
  } catch (error) {
    if (error instanceof JournalError && error.kind === 'broken')
      return Journal.continueBroken(dir, into, system);
    throw error;
  }
  try {
    if (journal.isSealed)
      throw new JournalError('sealed', `${dir} is closed and sealed. Only notes may follow, in place.`);
    return journal.continueIn(into);
  } catch (error) {
    journal.close();
    throw error;
  }
}
