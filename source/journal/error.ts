/**
 * What can go wrong with a journal, by what the person must do:
 * `disk-full` free space and try again; `io` look at the disk and try again; `not-saved` this file takes no more
 * (continue in another place); `locked` another program writes here; `broken` never write to it again;
 * `sealed` continue with notes; `moved` it goes on in another folder: open it there; `newer` a later version wrote it: use
 * that one; `missing` there is no journal; `exists` there is one already; `too-large` the record is too long.
 */
export type JournalErrorKind =
  | 'disk-full'
  | 'io'
  | 'not-saved'
  | 'locked'
  | 'broken'
  | 'sealed'
  | 'moved'
  | 'newer'
  | 'missing'
  | 'exists'
  | 'too-large';

export class JournalError extends Error {
  override readonly name = 'JournalError';
  readonly kind: JournalErrorKind;

  constructor(kind: JournalErrorKind, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.kind = kind;
  }
}

/** The system's name of an error (`ENOSPC`), or an empty text. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

const FULL: Readonly<Record<string, string>> = {
  ENOSPC: 'The disk is full.',
  EDQUOT: 'The quota of this user is used up.',
  EFBIG: 'The file has reached the largest size this system allows.',
};
const PLAIN: Readonly<Record<string, string>> = {
  EACCES: 'There is no permission.',
  EPERM: 'There is no permission.',
  EROFS: 'The disk is read-only.',
  ELOOP: 'It is a link, and links are not followed.',
  EIO: 'The disk reports an error.',
};

/** A failed call of the system in the words of a person. */
export function diskError(doing: string, error: unknown): JournalError {
  if (error instanceof JournalError) return error;
  const code = codeOf(error);
  const full = FULL[code];
  if (full !== undefined) return new JournalError('disk-full', `${doing}: ${full} Free some space.`, error);
  const why = PLAIN[code] ?? (error instanceof Error ? error.message : String(error));
  return new JournalError('io', `${doing}: ${why} Look at the disk before going on.`, error);
}
