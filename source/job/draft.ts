import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { readWhole, writeWhole } from './write-whole.ts';

/** What was being typed when the program ended: the entries of one screen that were not confirmed yet. */
export type Draft = {
  readonly screen: string;
  /** The step or thing it is about. */
  readonly about: string;
  readonly answers: Readonly<Record<string, string>>;
};

const FILE = 'draft.json';

/** The draft of a job folder, or null. A damaged draft is no draft: nothing depends on it. */
export function readDraft(dir: string): Draft | null {
  const held = readWhole(join(dir, FILE));
  if (typeof held !== 'object' || held === null) return null;
  const { screen, about, answers } = held as Readonly<Record<string, unknown>>;
  if (typeof screen !== 'string' || typeof about !== 'string') return null;
  if (typeof answers !== 'object' || answers === null) return null;
  const typed = Object.entries(answers).filter(
    (entry): entry is [string, string] => typeof entry[1] === 'string',
  );
  return { screen, about, answers: Object.fromEntries(typed) };
}

/** Keeps a draft, or with null forgets it. */
export function writeDraft(dir: string, draft: Draft | null): void {
  if (draft) writeWhole(join(dir, FILE), `${JSON.stringify(draft)}\n`);
  else rmSync(join(dir, FILE), { force: true });
}
