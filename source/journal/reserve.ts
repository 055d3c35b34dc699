import { join } from 'node:path';
import { deleteFile, syncFolder, withFile, writeFully } from './disk.ts';
import type { JournalFiles } from './system.ts';

/** Room that is given up when the disk is full, so that the work can still be recorded and closed. */
const RESERVE_BYTES = 256 * 1024;
const FILE = '.reserve';

/** Keeps room back, filled with bytes because a file of holes takes none. False where the disk has none left. */
export function keepReserve(files: JournalFiles, dir: string): boolean {
  try {
    if (files.list(dir).includes(FILE)) return true;
    withFile(files, join(dir, FILE), 'create', (fd) =>
      writeFully(files, fd, Buffer.alloc(RESERVE_BYTES, '.')),
    );
    return true;
  } catch {
    freeReserve(files, dir);
    return false;
  }
}

/** @returns whether there was any */
export function freeReserve(files: JournalFiles, dir: string): boolean {
  try {
    const wasThere = deleteFile(files, join(dir, FILE));
    if (wasThere) syncFolder(files, dir);
    return wasThere;
  } catch {
    return false;
  }
}
