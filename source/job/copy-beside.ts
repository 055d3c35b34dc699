import { cpSync, existsSync } from 'node:fs';
import { join } from 'node:path';

/** What belongs to a job and is no part of its journal. */
const BESIDE = ['private.json', 'draft.json', 'attachments'];

/** Copies names, draft and attachments of a job to where its journal goes on. */
export function copyBeside(from: string, to: string): void {
  for (const name of BESIDE) {
    if (existsSync(join(from, name))) cpSync(join(from, name), join(to, name), { recursive: true });
  }
}
