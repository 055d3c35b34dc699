import { join } from 'node:path';
import { isMakerGone, makerOf } from '../journal/aside.ts';
import { createFile, deleteFile } from '../journal/disk.ts';
import { JournalError } from '../journal/error.ts';
import { readRecords } from '../journal/read.ts';
import type { System } from '../journal/system.ts';
import { readWhole } from './write-whole.ts';

/** Stands in a job until whoever started it has been told of it: a start that was killed is found by it. */
const FILE = '.starting';

/** Kinds of record that are there although nobody has done anything. */
const UNTOUCHED = new Set(['open', 'basis', 'interrupted', 'here', 'clock', 'repair']);

/** @param of what the job is started from, as one text that tells it from others */
export function markStart(dir: string, of: string, system: System): void {
  createFile(system.files, join(dir, FILE), Buffer.from(JSON.stringify({ maker: makerOf(system), of })));
}

/** Whoever started the job knows of it. */
export function endStart(dir: string, system: System): void {
  deleteFile(system.files, join(dir, FILE));
}

/** The first of these folders that a start from the same made, and was killed before it could say so. */
export function unfinishedStart(dirs: readonly string[], of: string, system: System): string | null {
  return dirs.find((dir) => isUnfinished(dir, of, system)) ?? null;
}

function isUnfinished(dir: string, of: string, system: System): boolean {
  const mark = readWhole(join(dir, FILE), system.files) as { maker?: unknown; of?: unknown } | null;
  if (mark?.of !== of || !isMakerGone(String(mark.maker), system)) return false;
  try {
    for (const { kind } of readRecords(dir, system.files)) if (!UNTOUCHED.has(kind)) return false;
    return true;
  } catch (error) {
    if (error instanceof JournalError) return false;
    throw error;
  }
}
