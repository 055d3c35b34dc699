import { sayTrouble } from '../job/way-on.ts';
import { JournalError, type JournalErrorKind } from '../journal/error.ts';
import { Ending, type EXIT } from './exit.ts';

const KINDS: Readonly<Record<JournalErrorKind, keyof typeof EXIT>> = {
  'disk-full': 'refused',
  io: 'refused',
  'not-saved': 'refused',
  locked: 'refused',
  sealed: 'refused',
  moved: 'refused',
  newer: 'refused',
  exists: 'usage',
  missing: 'usage',
  'too-large': 'usage',
  broken: 'record',
};

/** How a command ends when the journal cannot do what was asked; anything else is passed on as it is. */
export function journalEnding(error: unknown): unknown {
  if (!(error instanceof JournalError)) return error;
  return new Ending(KINDS[error.kind], sayTrouble(error));
}
