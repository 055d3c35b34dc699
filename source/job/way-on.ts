import type { JournalError, JournalErrorKind } from '../journal/error.ts';

/** What the person does then, where it takes a command. */
const WAYS_ON: Partial<Record<JournalErrorKind, string>> = {
  'not-saved': ' loopward carry-on JOB --job FOLDER goes on in another one, best on another disk.',
  broken: ' To work on: loopward carry-on JOB --job FOLDER goes on after the last good record.',
};

/** What a journal could not do, and the way on: said alike by commands, screens and line mode. */
export function sayTrouble(error: JournalError): string {
  return `${error.message}${WAYS_ON[error.kind] ?? ''}`;
}
