import { join } from 'node:path';
import type { JournalFiles } from '../journal/system.ts';
import { clearBeside, readWhole, writeWhole } from './write-whole.ts';

/**
 * Whatever names a person or a place. It stands beside the journal, which knows only `p1`, `p2` ..., so that it
 * can be erased (by deleting the file) without touching the chain.
 */
export type Private = {
  /** Name by person id: `{ p1: '...' }`. */
  readonly persons: Readonly<Record<string, string>>;
  readonly site: {
    readonly name: string;
    readonly reference: string;
    readonly address?: string;
    readonly contact?: string;
  } | null;
};

const FILE = 'private.json';
const NOBODY: Private = { persons: {}, site: null };

/** What is known in private; nobody and nothing where it was erased or is damaged. */
export function readPrivate(dir: string): Private {
  const held = readWhole(join(dir, FILE));
  if (typeof held !== 'object' || held === null) return NOBODY;
  const { persons, site } = held as { persons?: unknown; site?: unknown };
  return { persons: strings(persons), site: siteOf(strings(site)) };
}

/** Replaces what is known in private, as a whole. */
export function writePrivate(dir: string, known: Private, files?: JournalFiles): void {
  writeWhole(join(dir, FILE), `${JSON.stringify(known, null, 2)}\n`, files);
}

/** Removes what a killed program left half written, so that erasing the file erases every name. */
export function tidyPrivate(dir: string): void {
  clearBeside(join(dir, FILE));
}

/** The id of a person by id or name, or null where nobody of that name is known. */
export function personId(known: Private, who: string): string | null {
  if (Object.hasOwn(known.persons, who)) return who;
  const same = (name: string): boolean => name.localeCompare(who, undefined, { sensitivity: 'accent' }) === 0;
  return Object.entries(known.persons).find(([, name]) => same(name))?.[0] ?? null;
}

function strings(held: unknown): Record<string, string> {
  if (typeof held !== 'object' || held === null) return {};
  return Object.fromEntries(
    Object.entries(held).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

function siteOf(held: Record<string, string>): Private['site'] {
  const { name, reference, address, contact } = held;
  if (name === undefined) return null;
  return {
    name,
    reference: reference ?? '',
    ...(address === undefined ? {} : { address }),
    ...(contact === undefined ? {} : { contact }),
  };
}
