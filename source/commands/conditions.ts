import { codeOf } from '../journal/error.ts';

/** What the computer stands in the way of is no defect: what is so, where, and what to do. Null where it is something else. */
export function outsideSays(error: unknown): string | null {
  const code = codeOf(error);
  if (!/^E[A-Z]+$/.test(code)) return null;
  const path = error instanceof Error && 'path' in error && typeof error.path === 'string' ? error.path : '';
  const { says, todo } = CONDITIONS[code] ?? { says: `The computer reports ${code}.`, todo: 'Look at that' };
  return `${path === '' ? '' : `${path}: `}${says} ${todo}, and try again. Nothing confirmed is lost.`;
}

const CONDITIONS: Readonly<Record<string, { readonly says: string; readonly todo: string }>> = {
  EACCES: { says: 'There is no permission.', todo: 'Give it to yourself, or name another place' },
  EPERM: { says: 'There is no permission.', todo: 'Give it to yourself, or name another place' },
  EROFS: { says: 'The disk is read-only.', todo: 'Name a place on another one' },
  ENOSPC: { says: 'The disk is full.', todo: 'Free some space' },
  ENOTDIR: { says: 'A file stands where a folder has to be.', todo: 'Name another place' },
  EEXIST: { says: 'A file stands where a folder has to be.', todo: 'Name another place' },
  EISDIR: { says: 'This is a folder, not a file.', todo: 'Name a file' },
  ENOENT: { says: 'There is no such file or folder.', todo: 'Look at the name' },
  ENAMETOOLONG: { says: 'The name is longer than this disk allows.', todo: 'Give a shorter one' },
  ELOOP: { says: 'It is a link that leads in a circle.', todo: 'Name what it should lead to' },
  EMFILE: { says: 'Too many files are open on this computer.', todo: 'Close some programs' },
  EIO: { says: 'The disk reports an error.', todo: 'Look at the disk' },
};
