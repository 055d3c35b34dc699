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
  /** What the commitments of the record were made with, by person id and `site`; erased with the names. */
  readonly salts?: Readonly<Record<string, string>>;
  /** The place before a correction whose record is not made yet. */
  readonly before?: { readonly site: NonNullable<Private['site']>; readonly salt: string };
};

const FILE = 'private.json';
const NOBODY: Private = { persons: {}, site: null };

/** What is known in private; nobody and nothing where it was erased or is damaged. */
export function readPrivate(dir: string): Private {
  const held = readWhole(join(dir, FILE));
  if (typeof held !== 'object' || held === null) return NOBODY;
  const { persons, site, salts, before } = held as Readonly<Record<string, unknown>>;
  const known = strings(salts);
  const earlier = typeof before === 'object' && before !== null ? (before as { site?: unknown }) : {};
  const earlierSite = siteOf(strings(earlier.site));
  return {
    persons: strings(persons),
    site: siteOf(strings(site)),
    ...(Object.keys(known).length === 0 ? {} : { salts: known }),
    ...(earlierSite === null ? {} : { before: { site: earlierSite, salt: strings(before).salt ?? '' } }),
  };
}

/** Replaces what is known in private, as a whole. */
export function writePrivate(dir: string, known: Private, files?: JournalFiles): void {
  writeWhole(join(dir, FILE), `${JSON.stringify(known, null, 2)}\n`, files);
}

/** Removes what a killed program left half written, so that erasing the file erases every name. */
export function tidyPrivate(dir: string, files: JournalFiles): void {
  clearBeside(join(dir, FILE), files);
}

/** The id of a person by id or name, or null where nobody of that name is known. */
export function personId(known: Private, who: string): string | null {
  if (Object.hasOwn(known.persons, who)) return who;
  return Object.entries(known.persons).find(([, name]) => isSameName(name, who))?.[0] ?? null;
}

/** Whether two names are the same, capitals or not. */
export function isSameName(one: string | null, other: string): boolean {
  return one !== null && one.localeCompare(other, undefined, { sensitivity: 'accent' }) === 0;
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
