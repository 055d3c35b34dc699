import { JournalError, type JournalErrorKind } from '../journal/error.ts';
import { Ending, type EXIT } from './exit.ts';

const KINDS: Readonly<Record<JournalErrorKind, keyof typeof EXIT>> = {
  'disk-full': 'refused',
  io: 'refused',
  'not-saved': 'refused',
  locked: 'refused',
  sealed: 'refused',
  exists: 'usage',
  missing: 'usage',
  'too-large': 'usage',
  broken: 'record',
};

/** What the person does then, where it takes a command. */
const WAYS_ON: Partial<Record<JournalErrorKind, string>> = {
  'not-saved': ' loopward carry-on JOB --job FOLDER goes on in another one, best on another disk.',
  broken: ' To work on: loopward carry-on JOB --job FOLDER goes on after the last good record.',
};

/** How a command ends when the journal cannot do what was asked; anything else is passed on as it is. */
export function journalEnding(error: unknown): unknown {
  if (!(error instanceof JournalError)) return error;
  return new Ending(KINDS[error.kind], `${error.message}${WAYS_ON[error.kind] ?? ''}`);
}
